"""One model at a time: the script of a newcomer, arrays, derivatives, units."""

from __future__ import annotations

import re

import fitwright as fw
import numpy as np
import pytest
from fitwright.models.results import MODELS
from tools_made import driver, fixture, screw, sleeve

NUT = {
    "diameter": "75 mm",
    "pitch": "2 mm",
    "height": "20 mm",
    "outside": "105 mm",
    "face_inside": "76 mm",
    "face_outside": "98 mm",
    "material": "1045",
}


def shaft(**changed):
    return fw.Shaft(**{"bore": "30 mm", "seat": "80 mm", "material": "4340", **changed})


def ring(**changed):
    given = {"bore": "80 mm", "outside": "105 mm", "length": "30 mm", "material": "52100"}
    return fw.Ring(**{**given, **changed})


def fit(**changed):
    given = {"shaft": shaft(), "ring": ring(), "interference": "38 um"}
    return fw.rings.fit(**{**given, **changed})


def outputs(result):
    return [field["name"] for field in result._fields()]


SCRIPT = """
import fitwright as fw

# one model at a time; numbers are SI (temperatures degC), strings carry units, arrays broadcast
fit = fw.rings.fit(
    shaft=fw.Shaft(bore="30 mm", seat="80 mm", material="4340"),
    ring=fw.Ring(bore="80 mm", outside="105 mm", length="30 mm", material="52100"),
    interference="38 um",            # or leave out: seat - bore as measured; both and unequal is an error
    speed="11000 rpm", shaft_temperature="70 degC", ring_temperature="80 degC")
fit.pressure, fit.loss_speed         # SI at the state given; floats, or arrays if an input was one; fit.cold at rest, 20 degC
fit.to("pressure", "MPa")            # any field in any unit; fit alone shows a table in shop units

# the whole job; a job is a value, nothing changes in place
job = fw.demo("blower")              # or fw.Job.load("blower.toml")
findings = job.evaluate()            # .table(units="inch"), .worst (least reserve), findings["full_load", "shoulder.clamp_low"]
tight = job.replace({"rings.sleeve.bore": "79.95 mm"})
job.solve(vary="nut.torque", output="shoulder.clamp_low", state="full_load", target="10 kN")   # -> .value, .job
job.sweep({"rings.sleeve.bore": ("79.94 mm", "79.97 mm", 50)})                                # .table(), .plot()
study = job.study(1_000_000, seed=1) # progress bar; .pass_rate, .quantiles(), .sensitivity(), .plot()
job.draw("blower.svg"); job.sheet("blower.html")
"""  # noqa: E501


def test_the_script_of_the_design_runs_as_written(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    space = {}
    exec(compile(SCRIPT, "design.md", "exec"), space)
    assert isinstance(space["fit"].pressure, float)
    assert space["fit"].to("pressure", "MPa") == pytest.approx(space["fit"].pressure / 1e6)
    assert space["findings"]["full_load", "shoulder.clamp_low"] > 0.0
    assert space["findings"].worst in list(space["findings"])
    assert space["tight"]["rings.sleeve.bore"] == pytest.approx(0.07995)
    assert space["study"].samples == 1_000_000
    assert (tmp_path / "blower.svg").stat().st_size > 1000
    assert (tmp_path / "blower.html").stat().st_size > 1000


# -- arrays ---------------------------------------------------------------------------------------


def test_scalars_give_floats():
    answer = fit()
    assert all(type(getattr(answer, name)) is float for name in outputs(answer))


@pytest.mark.parametrize(
    ("interference", "speed", "shape"),
    [
        (np.linspace(0.0, 60e-6, 5), "11000 rpm", (5,)),
        (["10 um", "20 um", 30e-6], 0.0, (3,)),
        (np.full((2, 3), 38e-6), [0.0, 500.0, 1100.0], (2, 3)),
        (np.full((2, 1), 38e-6), [0.0, 500.0, 1100.0], (2, 3)),
        (np.full((4, 1, 1), 38e-6), [[0.0, 500.0]], (4, 1, 2)),
        (np.array([38e-6]), 0.0, (1,)),
        ([], 0.0, (0,)),
        (np.array(38e-6), 0.0, ()),
    ],
)
def test_arrays_broadcast(interference, speed, shape):
    answer = fit(interference=interference, speed=speed)
    assert all(np.shape(getattr(answer, name)) == shape for name in outputs(answer))
    assert "nan" not in repr(answer).lower()


def test_arrays_in_parts_and_not_contiguous():
    wide = np.linspace(0.09, 0.12, 20)[::2]
    answer = fit(ring=ring(outside=wide))
    for i, outside in enumerate(wide):
        assert answer.pressure[i] == fit(ring=ring(outside=float(outside))).pressure


def test_arrays_equal_floats_to_the_bit():
    random = np.random.default_rng(3)
    count = 101  # not a whole number of packs
    inputs = {
        "interference": random.uniform(-20e-6, 90e-6, count),
        "speed": random.uniform(0.0, 1500.0, count),
        "shaft_temperature": random.uniform(-40.0, 150.0, count),
        "ring_temperature": random.uniform(-40.0, 150.0, count),
        "axial_force": random.uniform(-50e3, 50e3, count),
    }
    together = fit(**inputs)
    for i in range(count):
        alone = fit(**{name: float(column[i]) for name, column in inputs.items()})
        for name in outputs(alone):
            assert getattr(together, name)[i] == getattr(alone, name), name


def test_arrays_that_do_not_match():
    with pytest.raises(fw.InputError, match=re.escape("interference (2,), speed (3,)")):
        fit(interference=[1e-5, 2e-5], speed=[1.0, 2.0, 3.0])


@pytest.mark.parametrize("place", [0, 1, 4095, 4096, 9999])
def test_an_error_in_an_array_says_where(place):
    speed = np.full(10_000, 1000.0)
    speed[place] = 11_000.0
    with pytest.raises(fw.InputError) as caught:
        fit(speed=speed)
    [(path, text)] = caught.value.problems
    assert path == f"speed[{place}]"
    assert 'did you mean "11000 rpm"?' in text
    speed[place] = -1.0
    with pytest.raises(fw.InputError, match=re.escape(f"speed[{place}]: -9.5493 rpm is outside")):
        fit(speed=speed)


# -- what a result can do -------------------------------------------------------------------------


def test_cold_is_the_same_at_rest():
    hot = fit(speed="11000 rpm", shaft_temperature="70 degC", ring_temperature="80 degC")
    assert hot.cold.pressure == fit().pressure
    assert fit(axial_force="20 kN").cold.pressure == fit().pressure
    assert hot.cold.pressure > hot.pressure


def test_to_any_unit():
    answer = fit()
    assert answer.to("pressure", "psi") == pytest.approx(answer.pressure / 6894.757293168)
    assert answer.to("loss_temperature", "degF") == pytest.approx(
        answer.loss_temperature * 1.8 + 32.0
    )
    assert fit(interference=[1e-5, 2e-5]).to("interference_left", "um") == pytest.approx(
        [10.0, 20.0]
    )
    with pytest.raises(fw.InputError, match='pressure: "mm" is not a unit of stress'):
        answer.to("pressure", "mm")
    with pytest.raises(fw.InputError, match=r"presure: is not an output.*pressure"):
        answer.to("presure", "MPa")


def test_tables_in_shop_units():
    text = str(fit().table())
    assert "MPa" in text
    assert "um" in text
    inch = str(fit().table(units="inch"))
    assert "ksi" in inch
    assert "thou" in inch
    assert "<table>" in fit()._repr_html_()
    ranged = repr(fit(interference=[1e-5, 2e-5]))
    assert "10.0 um to 20.0 um" in ranged


def running_bearing():
    return fw.Bearing(
        balls=16,
        ball_diameter="12 mm",
        pitch_diameter="80 mm",
        inner_curvature=0.52,
        outer_curvature=0.53,
        clearance="60 um",
        inner_shoulder=0.3,
        outer_shoulder=0.25,
        material="52100",
    )


CALLS = {
    "rings.thick_ring": lambda: fw.rings.thick_ring(
        bore="20 mm", outside="100 mm", inner_pressure="300 MPa", speed=900.0, material="4340"
    ),
    "rings.fit": lambda: fit(
        speed="11000 rpm",
        shaft_temperature="71 degC",
        ring_temperature="83 degC",
        axial_force="20 kN",
        shaft=shaft(roughness="1 um"),
        ring=ring(bore="79.957 mm", roughness="2 um"),
        interference=None,
    ),
    "rings.nest": lambda: fw.rings.nest(
        layers=[
            fw.Layer(bore="20 mm", outside="60 mm", material="4340"),
            fw.Layer(
                bore="59.97 mm",
                outside="80 mm",
                bore_roughness="1 um",
                smoothing=0.8,
                temperature="70 degC",
                bore_temperature="66 degC",
                material="4340",
            ),
            fw.Layer(
                outside="105 mm",
                interference="38 um",
                axial_stress="-20 MPa",
                modulus_factor=1.01,
                material="52100",
            ),
        ],
        speed="7000 rpm",
        inner_pressure="3 MPa",
        outer_pressure="1 MPa",
    ),
    "rings.stepped": lambda: fw.rings.stepped(
        slices=[
            fw.Slice(outside="120 mm", length="15 mm"),
            fw.Slice(outside="100 mm", length="25 mm", contact_length="22 mm", shaft_bore="33 mm"),
        ],
        shaft=shaft(roughness="1 um"),
        ring=fw.SteppedRing(bore="79.957 mm", roughness="2 um", material="52100"),
        speed="9000 rpm",
        ring_temperature="33 degC",
        axial_force="20 kN",
    ),
    "rings.elastic_plastic_fit": lambda: fw.rings.elastic_plastic_fit(
        shaft=shaft(bore="45 mm", roughness="1 um"),
        ring=ring(outside="125 mm", bore="79.77 mm"),
        ring_yield="300 MPa",
        shaft_yield="280 MPa",
        ring_tangent_modulus="4 GPa",
        shaft_tangent_modulus="3 GPa",
        speed="5000 rpm",
    ),
    "rings.hot_ring": lambda: fw.rings.hot_ring(
        bore="60 mm",
        outside="110 mm",
        radius="40 mm",
        bore_temperature="40 degC",
        outside_temperature="150 degC",
        material="52100",
    ),
    "rings.slip": lambda: fw.rings.slip(
        shaft=shaft(),
        ring=ring(),
        pressure="40 MPa",
        torque="900 N m",
        thrust="12 kN",
        locked_force="5 kN",
        bending_moment="700 N m",
    ),
    "rings.overhang": lambda: fw.rings.overhang(
        shaft=shaft(roughness="1 um"),
        ring=ring(bore="79.957 mm", roughness="2 um"),
        overhang=0.7,
        speed="9000 rpm",
        axial_force="20 kN",
    ),
    "heat.oven": lambda: fw.heat.oven(
        shaft=shaft(), ring=ring(bore="79.962 mm"), slip_clearance="33 um", oven="111 degC"
    ),
    "rings.seal": lambda: fw.rings.seal(
        rotor=fw.SealRotor(
            bore="80 mm",
            outside="105 mm",
            surface="104.8 mm",
            fit_pressure="20 MPa",
            built_pressure="36 MPa",
            axial_stress="-10 MPa",
            temperature="83 degC",
            material="4340",
        ),
        stator=fw.SealStator(diameter="105.4 mm", temperature="71 degC", material="grey_iron"),
        speed="9000 rpm",
        offset="40 um",
        touch_clearance="20 um",
    ),
    "rings.face_gap": lambda: fw.rings.face_gap(
        rotor=fw.AxialPath(length="900 mm", temperature="96 degC", strain=-4e-5, material="4340"),
        casing=fw.AxialPath(length="870 mm", temperature="61 degC", material="grey_iron"),
        built_gap="1.5 mm",
        movement="80 um",
        touch_clearance="100 um",
        rotor_growth="opens",
    ),
    "heat.chill": lambda: fw.heat.chill(
        shaft=shaft(seat="80.09 mm"),
        ring=ring(),
        slip_clearance="33 um",
        shaft_temperature="24 degC",
        heating_limit="118 degC",
        shaft_lowest="-70 degC",
    ),
    "heat.seating": lambda: fw.heat.seating(
        shaft=shaft(seat="80.04 mm"), ring=ring(), press_force="9 kN", reacted="shaft"
    ),
    "heat.take_off": lambda: fw.heat.take_off(
        shaft=shaft(seat="80.04 mm"),
        ring=ring(),
        shaft_temperature="24 degC",
        difference="11 K",
        heating_limit="118 degC",
        loose_clearance="45 um",
    ),
    "heat.body": lambda: fw.heat.body(
        outside="80 mm",
        start="24 degC",
        ambient="-60 degC",
        outer_film="100 W/m^2/K",
        duration="90 s",
        material="4340",
    ),
    "heat.soak": lambda: fw.heat.soak(ring=ring(), oven="118 degC", start="24 degC"),
    "heat.induction": lambda: fw.heat.induction(
        ring=ring(), heat_flux="60 kW/m^2", target="110 degC"
    ),
    "heat.slip_on": lambda: fw.heat.slip_on(
        shaft=shaft(seat="80.04 mm"),
        ring=ring(),
        oven="118 degC",
        carry_time="6 s",
    ),
    "heat.loosen": lambda: fw.heat.loosen(
        shaft=shaft(seat="80.04 mm"), ring=ring(), heat_flux="300 kW/m^2"
    ),
    "threads.tighten": lambda: fw.threads.tighten(
        nut=fw.Nut(**NUT), torque="600 N m", shaft_bore="30 mm", material="4340"
    ),
    "threads.torque": lambda: fw.threads.torque(
        nut=fw.Nut(**NUT), preload="50 kN", shaft_bore="30 mm", material="4340"
    ),
    "threads.friction": lambda: fw.threads.friction(
        nut=fw.Nut(**NUT), torque="600 N m", preload="52 kN", face_over_thread=1.2
    ),
    "threads.breakaway": lambda: fw.threads.breakaway(
        nut=fw.Nut(**NUT), torque="600 N m", loosening_torque="560 N m", face_over_thread=1.2
    ),
    "threads.turn_of_nut": lambda: fw.threads.turn_of_nut(
        nut=fw.Nut(**NUT),
        snug_torque="150 N m",
        angle="5 deg",
        compliance="0.5 um/kN",
        settling="2 um",
        material="4340",
    ),
    "threads.stretch": lambda: fw.threads.stretch(
        nut=fw.Nut(**NUT),
        stretch="14 um",
        body_diameter="80 mm",
        body_length="100 mm",
        shaft_bore="30 mm",
        material="4340",
    ),
    "threads.scatter": lambda: fw.threads.scatter(
        nut=fw.Nut(**NUT), torque="600 N m", tool_scatter=0.06
    ),
    "threads.stripping": lambda: fw.threads.stripping(
        nut=fw.Nut(**NUT), preload="50 kN", internal_minor="73.1 mm", material="4340"
    ),
    "threads.nut_growth": lambda: fw.threads.nut_growth(
        nut=fw.Nut(**NUT),
        preload="50 kN",
        compliance="0.5 um/kN",
        speed="11000 rpm",
        nut_temperature="73 degC",
        shaft_temperature="71 degC",
        material="4340",
    ),
    "threads.lock_tabs": lambda: fw.threads.lock_tabs(
        nut=fw.Nut(**NUT),
        tabs=17,
        slots=4,
        torque_low="550 N m",
        torque_high="650 N m",
        torque_limit="720 N m",
        compliance="0.5 um/kN",
        miss="3 deg",
    ),
    "threads.hand": lambda: fw.threads.hand(
        nut=fw.Nut(**NUT),
        preload="50 kN",
        drag_torque="20 N m",
        speed="11000 rpm",
        start_time="0.5 s",
        trip_time="0.2 s",
        rotation="anticlockwise",
    ),
    "stack.wedge": lambda: fw.stack.wedge(
        shaft=fw.SquareShaft(
            bore="30 mm", shoulder_runout="3 um", shoulder_angle="60 deg", material="4340"
        ),
        ring=fw.SquareRing(
            bore="80 mm",
            outside="105 mm",
            length="30 mm",
            wedge="6 um",
            wedge_angle="20 deg",
            runout="20 um",
            runout_angle="110 deg",
            material="52100",
        ),
        clamp="40 kN",
        rotor_mass="60 kg",
        speed="11000 rpm",
        plane_a="-20 mm",
        plane_b="70 mm",
    ),
    "bearings.hertz": lambda: fw.bearings.hertz(
        first=fw.Body(curvature_x=100.0, curvature_y=100.0, material="52100"),
        second=fw.Body(curvature_x=15.0, curvature_y=-90.0, material="52100"),
        load="2 kN",
    ),
    "bearings.line_contact": lambda: fw.bearings.line_contact(
        first_curvature=100.0,
        second_curvature=-30.0,
        length="20 mm",
        load="5 kN",
        first=fw.LineBody(modulus_factor=1.02, material="52100"),
        second=fw.LineBody(modulus_factor=0.97, material="4340"),
    ),
    "bearings.housing_fit": lambda: fw.bearings.housing_fit(
        outside="160 mm",
        raceway="140 mm",
        shoulder="134 mm",
        temperature=60.0,
        housing=fw.Housing(bore="159.95 mm", outside="220 mm", temperature=50.0, material="4340"),
        material="52100",
    ),
    "bearings.pair": lambda: fw.bearings.pair(
        bearing=running_bearing(),
        inner_growth="4 um",
        inner_longer="1 um",
        ball_temperature=50.0,
        preload_force="500 N",
        thrust="300 N",
        material="52100",
    ),
    "bearings.thrust_equilibrium": lambda: fw.bearings.thrust_equilibrium(
        bearing=running_bearing(),
        inner_growth="4 um",
        outer_growth="2 um",
        ball_temperature=50.0,
        thrust="3 kN",
        speed="11000 rpm",
        outer_control=0.8,
        material="52100",
    ),
    "bearings.equilibrium": lambda: fw.bearings.equilibrium(
        bearing=running_bearing(),
        inner_growth="4 um",
        outer_growth="2 um",
        ball_temperature=50.0,
        thrust="3 kN",
        radial_load="1 kN",
        radial_load_across="200 N",
        moment=8.0,
        moment_across=5.0,
        speed="11000 rpm",
        outer_control=0.8,
        material="52100",
    ),
    "bearings.service": lambda: fw.bearings.service(
        row=fw.BallRow(
            balls=15,
            ball_diameter="17.462 mm",
            pitch_diameter="115.5 mm",
            contact_angle="32 deg",  # 30 deg is a knot of the load factors
        ),
        service=fw.Service(),
        oil=fw.Lubricant(viscosity_40="46 mm^2/s", viscosity_100="6.8 mm^2/s"),
        speed="11000 rpm",
        axial_load="9 kN",
        inner_load="1.2 kN",
        outer_load="1.5 kN",
        inner_holding="400 N m",
    ),
    "joints.bolted_joint": lambda: fw.joints.bolted_joint(
        bolt=fw.Bolt(
            diameter="12 mm",
            pitch="1.75 mm",
            shank_length="15 mm",
            temperature=45.0,
            yield_strength="640 MPa",
            material="4140",
        ),
        thread=fw.InternalThread(engagement="18 mm", temperature=30.0, material="grey_iron"),
        layers=[
            fw.ClampedLayer(thickness="2.5 mm", outside="24 mm", material="1045"),
            fw.ClampedLayer(thickness="20 mm", outside="40 mm", temperature=50.0, material="1045"),
            fw.ClampedLayer(thickness="12 mm", outside="34 mm", material="6061-t6"),
        ],
        torque="60 N m",
        load="8 kN",
        load_low="1 kN",
        load_introduction=0.6,
        fatigue="gerber",
    ),
    "joints.bolt_pattern": lambda: fw.joints.bolt_pattern(  # nothing even: no two bolts alike
        places=[
            fw.BoltPlace(angle="5 deg", diameter="180 mm"),
            fw.BoltPlace(angle="70 deg", diameter="190 mm"),
            fw.BoltPlace(angle="160 deg"),
            fw.BoltPlace(angle="230 deg", diameter="205 mm"),
            fw.BoltPlace(angle="310 deg"),
        ],
        circle="200 mm",
        thrust="12 kN",
        moment="500 N m",
        moment_direction="35 deg",
        torque="300 N m",
        side_force="4 kN",
        side_direction="80 deg",
    ),
    "joints.plate": lambda: fw.joints.plate(
        outside="215 mm",
        hole="120 mm",
        thickness="14 mm",
        support="190 mm",
        pressure="0.4 MPa",
        pressure_inside="130 mm",
        pressure_outside="170 mm",
        ring_load="25 kN",
        ring_diameter="150 mm",
        radius="68 mm",
        temperature=60.0,
        material="1045",
    ),
    "joints.ring_plate": lambda: fw.joints.ring_plate(
        plate=fw.ClampPlate(
            outside="215 mm", hole="130 mm", thickness="16 mm", temperature=50.0, material="1045"
        ),
        ring=fw.PlatedRing(
            outside="160 mm",
            inside="142 mm",
            width="30.04 mm",
            raceway_place=0.4,
            temperature=60.0,
            material="52100",
        ),
        pocket=fw.Pocket(depth="30 mm", shim="20 um", temperature=50.0, material="ductile_iron"),
        bolt=fw.Bolt(
            diameter="10 mm",
            pitch="1.5 mm",
            yield_strength="640 MPa",
            temperature=45.0,
            material="4140",
        ),
        thread=fw.InternalThread(engagement="18 mm", temperature=50.0, material="ductile_iron"),
        bolts=12,
        bolt_circle="190 mm",
        torque="40 N m",
        thrust_to_plate="20 kN",
        thrust_to_shoulder="9 kN",
        tilting_moment="150 N m",
    ),
    "joints.outer_ring": lambda: fw.joints.outer_ring(
        outside="160 mm",
        raceway="144 mm",
        shoulder="138 mm",
        width="30 mm",
        temperature=60.0,
        housing=fw.Housing(
            bore="159.99 mm", outside="230 mm", temperature=50.0, material="ductile_iron"
        ),
        clamp_force="15 kN",
        clamp_force_high="22 kN",
        plate_diameter="156 mm",
        shoulder_diameter="154 mm",
        clamp_at_bolts=1.3,
        clamp_between_bolts=0.7,
        friction_torque="3 N m",
        failing_torque="80 N m",
        material="52100",
    ),
    "tooling.column": lambda: fw.tooling.column(
        diameter="30 mm",
        bore="8 mm",
        length="600 mm",
        end_factor=0.8,
        load="40 kN",
        eccentricity="2 mm",
        temperature=60.0,
        material="1045",
    ),
    "tooling.weld": lambda: fw.tooling.weld(
        pattern="rectangle",
        leg="6 mm",
        length="80 mm",
        distance="50 mm",
        axial_force="5 kN",
        shear_force="12 kN",
        torque="300 N m",
        bending_moment="200 N m",
        material="1020",
    ),
    "tooling.press_sleeve": lambda: sleeve(
        eccentricity="3 mm",
        face=fw.PushedFace(inside="80 mm", outside="105 mm", temperature=90.0, material="52100"),
        piston_bore="21 mm",
        screw_diameter="20 mm",
        screw_pitch="4 mm",
        temperature=40.0,
    ),
    "tooling.holding_fixture": lambda: fixture(
        share=0.9,
        other_force="500 N",
        rod=screw(diameter="36 mm", engagement="40 mm", length="160 mm", eccentricity="2 mm"),
        bolt={"temperature": 40.0},
    ),
    "tooling.nut_driver": lambda: driver(
        nut={"growth": "12 um", "temperature": 35.0},
        tooth_width="9.5 mm",
        tooth_height="8 mm",
        overhang="1 mm",
        flank_angle=0.1,
        side_force="2 kN",
    ),
    "bearings.mounted": lambda: fw.bearings.mounted(
        bearing=fw.Bearing(
            balls=14,
            ball_diameter="19 mm",
            pitch_diameter="110 mm",
            inner_curvature=0.52,
            outer_curvature=0.53,
            clearance="250 um",
            material="52100",
        ),
        inner_growth="60 um",
        thrust="20 kN",
        material="52100",
    ),
}


def ask(name):
    """The call above, or the example of the model's own docstring."""
    if name in CALLS:
        return CALLS[name]()
    return eval(MODELS[name]["example"].rpartition(".")[0], {"fw": fw})


#: Their steps of time change with the inputs: held against differences in tests/cpp, more loosely.
IN_TIME = {"heat.body", "heat.soak", "heat.induction", "heat.slip_on", "heat.loosen"}


#: Their counts must be whole.
WHOLE_COUNTS = {"joints.ring_plate", "tooling.holding_fixture", "tooling.nut_driver"}


@pytest.mark.parametrize("name", sorted(IN_TIME))
def test_models_in_time_have_derivatives(name):
    exact = CALLS[name]().derivatives()
    assert sum(value != 0.0 for value in exact.values()) > 20


@pytest.mark.parametrize("name", sorted(set(MODELS) - IN_TIME))
def test_derivatives_equal_finite_differences(name):
    answer = ask(name)
    exact = answer.derivatives()
    reached = _flat(name, answer._arguments)
    for path, field in ((f["name"], f) for f in fw.models.flat_fields(name, "inputs")):
        if path not in reached:
            continue  # at its standard value, which may be an end of its range
        if field["quantity"] == "count" and (path.startswith("row.") or name in WHOLE_COUNTS):
            continue  # whole numbers of rows, balls, bolts, dogs
        value = reached[path]
        step = abs(value) * 5e-6
        at = {k: _with(answer, path, value + k * step) for k in (-2, -1, 1, 2)}
        for output in outputs(answer):
            near, far = (at[k]._outputs[output] - at[-k]._outputs[output] for k in (1, 2))
            rough = (8.0 * near - far) / (12.0 * step)  # error of fourth order
            rounding = 1e-11 * abs(answer._outputs[output]) / step
            if name == "bearings.frequencies":
                rounding = max(rounding, 3e-16 / step)  # the controlled spin is 0 but for rounding
            assert exact[output, path] == pytest.approx(rough, rel=1e-6, abs=rounding), (
                f"d {output} / d {path} [{field['quantity']}]"
            )


def _flat(model, arguments):
    """Given numbers of a call, in SI, by path."""
    flat = {}
    for name, value in arguments.items():
        if isinstance(value, fw.models.Part):
            flat |= {f"{name}.{k}": v for k, v in value._read.items() if v}
        elif isinstance(value, list):
            for k, part in enumerate(value, 1):
                member = f"{name.removesuffix('s')}{k}"
                flat |= {f"{member}.{key}": v for key, v in part._read.items() if v}
    for field in _top(MODELS[model]):
        value = arguments[field["name"]]
        if value is not None:
            flat[field["name"]] = fw.units.to_si(value, field["quantity"])
    return {path: value for path, value in flat.items() if value and np.isfinite(value)}


def _top(model):
    return [f for f in model["inputs"]["fields"] if f["kind"] == "number"]


def _with(answer, path, value):
    arguments = dict(answer._arguments)
    part, _, name = path.rpartition(".")
    if part and part not in arguments:  # a member of a list
        member, place = part.rstrip("0123456789") + "s", int(part[-1]) - 1
        parts = list(arguments[member])
        parts[place] = type(parts[place])(**{**parts[place]._given, name: value})
        arguments[member] = parts
    elif part:
        held = arguments[part]
        arguments[part] = type(held)(**{**held._given, name: value})
    else:
        arguments[path] = value
    return fw.models.call(type(answer), arguments)


def test_derivatives_are_for_one_point():
    with pytest.raises(fw.InputError, match="one point, not for arrays"):
        fit(interference=[1e-5]).derivatives()
