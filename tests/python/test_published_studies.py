"""Published examples of uncertainty, through outputs of one's own: the variables of an example
ride on sizes of a fit, each told as so many micrometres beside its size."""

import math

import fitwright as fw
import pytest

#: Where a variable of an example stands in the model, and the size it is counted from.
CARRIERS = {
    "shaft.bore": "30 mm",
    "shaft.seat": "80.5 mm",
    "ring.bore": "80 mm",
    "ring.outside": "110 mm",
    "ring.length": "30 mm",
}


def riding(spreads, output):
    """A single model whose output is the example's; {x1} in it is the first variable."""
    parts = {"shaft": {"material": "4340"}, "ring": {"material": "52100"}}
    words = {}
    for number, (path, base) in enumerate(CARRIERS.items()):
        part, name = path.split(".")
        parts[part][name] = base
        words[f"x{number + 1}"] = f"((inputs.{path} - {base}) / (1 um))"
        if number < len(spreads):
            size = float(base.removesuffix(" mm"))
            shape, *numbers = spreads[number]
            told = {"value": base, "spread": shape}
            if shape == "normal":
                middle, deviation = numbers
                told |= {"value": f"{size + middle * 1e-3!r} mm", "deviation": f"{deviation} um"}
            else:
                low, high = numbers
                told["value"] = f"{size + (low + high) * 5e-4!r} mm"
                told |= {"low": f"{size + low * 1e-3!r} mm", "high": f"{size + high * 1e-3!r} mm"}
            parts[part][name] = told
    one = fw.single(fw.rings.fit, **parts)
    return one.with_outputs({"y": output.format(**words)})


def told(study):
    low, high = study.shortest_interval("as_given", "outputs.y")
    statistics = study["as_given", "outputs.y"].statistics
    return statistics.mean, statistics.deviation, float(low), float(high)


def test_a_sum_of_four_normals_and_of_four_rectangles():
    """JCGM 101:2008, 9.2.2 and 9.2.3 (from memory; the second by exact convolution: 3.8794)."""
    total = "{x1} + {x2} + {x3} + {x4}"
    study = riding([("normal", 0, 1)] * 4, total).study(1 << 20, progress=False)
    mean, deviation, low, high = told(study)
    assert mean == pytest.approx(0.0, abs=0.01)
    assert deviation == pytest.approx(2.0, abs=0.01)
    assert (high - low) / 2 == pytest.approx(3.92, abs=0.02)
    half = math.sqrt(3.0)
    study = riding([("uniform", -half, half)] * 4, total).study(1 << 20, progress=False)
    mean, deviation, low, high = told(study)
    assert deviation == pytest.approx(2.0, abs=0.01)
    assert (high - low) / 2 == pytest.approx(3.8794, abs=0.02)


def test_a_mass_is_calibrated():
    """JCGM 101:2008, 9.3 (from memory): a product whose first-order framework is 30 % off."""
    # x1: reference less 100 g [mg]; x2: what is added [mg]; x3: air [kg/m^3]; x4, x5: weights
    # [1000 kg/m^3].
    calibration = riding(
        [
            ("normal", 0.0, 0.050),
            ("normal", 1.234, 0.020),
            ("uniform", 1.10, 1.30),
            ("uniform", 7.0, 9.0),
            ("uniform", 7.95, 8.05),
        ],
        "(100000 + {x1} + {x2}) * (1 + ({x3} - 1.2) * (0.001 / {x4} - 0.001 / {x5})) - 100000",
    )
    mean, deviation, low, high = told(calibration.study(1 << 20, progress=False))
    assert mean == pytest.approx(1.2341, abs=0.001)
    assert deviation == pytest.approx(0.0754, abs=0.0005)
    assert low == pytest.approx(1.0834, abs=0.004)
    assert high == pytest.approx(1.3825, abs=0.004)


def test_shares_of_the_g_function():
    """Sobol' (1993), as every textbook of sensitivity has it (from memory):
    V_i = 1/(3 (1 + a_i)^2), and the product of all (1 + V_i) less 1 is the whole variance."""
    a = (0.0, 1.0, 4.5, 9.0)
    product = " * ".join(
        f"((abs(4 * {{x{i + 1}}} - 2) + {weight}) / {1 + weight})" for i, weight in enumerate(a)
    )
    one = riding([("uniform", 0.0, 1.0)] * 4, product)
    found = one.sobol_indices(1 << 15, outputs="outputs.y", progress=False)
    own = [1.0 / (3.0 * (1.0 + weight) ** 2) for weight in a]
    whole = math.prod(1.0 + v for v in own) - 1.0
    shares = {share.input: share for share in found["as_given", "outputs.y"]}
    for path, v in zip(CARRIERS, own, strict=False):
        assert shares[path].first == pytest.approx(v / whole, abs=0.01), path
        total = v / (1.0 + v) * (1.0 + whole) / whole
        assert shares[path].total == pytest.approx(total, abs=0.01), path
