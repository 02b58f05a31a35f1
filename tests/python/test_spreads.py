"""How an input may scatter, held against SciPy's distributions; designs and correlations."""

from __future__ import annotations

import fitwright as fw
import numpy as np
import pytest
from fitwright import _core
from scipy import stats

SHARES = [1e-9, 1e-4, 0.01, 0.2, 0.5, 0.77, 0.99, 0.9999, 1.0 - 1e-9]
SEAT = 'diameter = { value = "80.036 mm", spread = "normal", deviation = "1.5 um" }'
NAN = float("nan")


def spread(shape, middle, deviation=NAN, low=NAN, high=NAN, measured=()):
    made = _core.Spread("a", 0, -1, -1, shape, middle, deviation, low, high, list(measured))
    assert made.problem() == ""
    return made


def beta_of(mean, deviation, low, high):
    m, v = (mean - low) / (high - low), (deviation / (high - low)) ** 2
    t = m * (1.0 - m) / v - 1.0
    return stats.beta(m * t, (1.0 - m) * t, loc=low, scale=high - low)


LOG_VARIANCE = np.log(1.0 + 0.25**2)
PAIRS = [
    (spread("normal", 3.0, 0.5), stats.norm(3.0, 0.5)),
    (spread("uniform", 0.0, low=2.0, high=5.0), stats.uniform(2.0, 3.0)),
    (spread("triangular", 2.5, low=2.0, high=5.0), stats.triang(0.5 / 3.0, 2.0, 3.0)),
    (
        spread("truncated_normal", 1.0, 2.0, low=0.0, high=4.0),
        stats.truncnorm(-0.5, 1.5, 1.0, 2.0),
    ),
    (
        spread("lognormal", 4.0, 1.0),
        stats.lognorm(np.sqrt(LOG_VARIANCE), scale=4.0 * np.exp(-LOG_VARIANCE / 2.0)),
    ),
    (spread("beta", 0.3, 0.1, low=0.0, high=1.0), beta_of(0.3, 0.1, 0.0, 1.0)),
    (spread("beta", 12.0, 2.5, low=10.0, high=20.0), beta_of(12.0, 2.5, 10.0, 20.0)),
]


@pytest.mark.parametrize(("ours", "theirs"), PAIRS, ids=lambda d: getattr(d, "shape", ""))
def test_quantiles_agree_with_scipy(ours, theirs):
    # The beta quantile is a table over normal scores: 1e-7 of its width.
    width = theirs.ppf(0.999) - theirs.ppf(0.001)
    for share in SHARES:
        assert ours.quantile(share) == pytest.approx(
            theirs.ppf(share), rel=1e-9, abs=1e-7 * width if ours.shape == "beta" else 1e-9 * width
        )
    assert ours.standard_deviation == pytest.approx(theirs.std(), rel=1e-6)


def test_readings_come_up_equally_often_and_the_gauge_blurs_them():
    plain = spread("measured", NAN, NAN, measured=[3.0, 1.0, 2.0])
    assert [plain.quantile(u) for u in (0.1, 0.5, 0.9)] == [1.0, 2.0, 3.0]
    assert plain.middle == pytest.approx(2.0)
    blurred = spread("measured", NAN, 0.1, measured=[1.0, 2.0, 3.0])
    drawn = np.array([blurred.quantile((i + 0.5) / 30000) for i in range(30000)])
    mixture = [np.mean(stats.norm([1.0, 2.0, 3.0], 0.1).cdf(x)) for x in (1.1, 1.9, 2.0, 3.05)]
    sampled = [np.mean(drawn < x) for x in (1.1, 1.9, 2.0, 3.05)]
    assert sampled == pytest.approx(mixture, abs=1e-3)
    assert blurred.standard_deviation == pytest.approx(np.std(drawn), rel=1e-3)


def with_seat(demo_text, told):
    return fw.Job.loads(demo_text.replace(SEAT, f"diameter = {{ {told} }}"))


@pytest.fixture(scope="module")
def demo_text():
    from importlib import resources

    return (resources.files("fitwright") / "demos" / "blower.toml").read_text(encoding="utf-8")


def test_a_measured_seat_enters_with_its_gauge(demo_text):
    job = with_seat(
        demo_text,
        'measured = ["80.034 mm", "80.036 mm", "80.038 mm"], gauge = "1 um", of = "these_parts"',
    )
    assert job["seats.main.diameter"] == pytest.approx(80.036e-3)
    seat = job.spreads["seats.main.diameter"]
    assert seat.standard_deviation == pytest.approx(np.hypot(np.std([34e-6, 36e-6, 38e-6]), 1e-6))
    moved = job.replace({"seats.main.diameter": "80.040 mm"})
    assert moved.spreads["seats.main.diameter"].measured == pytest.approx(
        [80.038e-3, 80.040e-3, 80.042e-3]
    )


def test_a_seat_measured_warm_is_corrected_to_20_degc(demo_text):
    """By hand: 80 mm of steel (11.6 um/m/K to 30 degC) at 30 degC is 9.3 um larger than at 20 degC;
    the steel micrometer (11.5), 5 K above 20 degC, is 4.6 um too long itself."""
    job = with_seat(
        demo_text,
        'measured = ["80.045 mm", "80.047 mm"], gauge = "1 um", of = "these_parts", '
        'part_temperature = "30 degC", '
        'part_material = "4140", gauge_temperature = "25 degC", difference_uncertainty = "0.5 K"',
    )
    metal = fw.materials.material("4140").at("expansion", 30.0)
    factor = (1 + 11.5e-6 * 5) / (1 + metal * 10)
    assert job["seats.main.diameter"] == pytest.approx(80.046e-3 * factor, rel=1e-9)
    assert job["seats.main.diameter"] == pytest.approx(80.0413e-3, abs=0.2e-6)
    seat = job.spreads["seats.main.diameter"]
    # 1 um of the gauge, 0.46 um by 0.5 K, and what is not known of the two expansions.
    shares = np.hypot(80e-3 * 0.58e-6 * 10, 80e-3 * 1.2e-6 * 5)
    gauge = np.hypot(np.hypot(1e-6, 80e-3 * 11.5e-6 * 0.5), shares)
    assert seat.standard_deviation == pytest.approx(np.hypot(gauge, 1e-6), rel=2e-3)


READ = [80.034e-3, 80.0345e-3, 80.0355e-3, 80.035e-3, 80.0342e-3]
READ_TEXT = ", ".join(f'"{x * 1e3:.4f} mm"' for x in READ)
TAILS = (1e-5, 0.001, 0.025, 0.3, 0.5, 0.84, 0.999)


def test_repeated_readings_of_one_part_against_scipy(demo_text):
    """Student's t of n - 1 degrees of freedom about the mean, scale s/sqrt(n): JCGM 101."""
    job = with_seat(demo_text, f'measured = [{READ_TEXT}], of = "one_part"')
    seat, n = job.spreads["seats.main.diameter"], len(READ)
    exact = stats.t(n - 1, np.mean(READ), np.std(READ, ddof=1) / np.sqrt(n))
    assert job["seats.main.diameter"] == pytest.approx(np.mean(READ), rel=1e-12)
    assert seat.standard_deviation == pytest.approx(exact.std())
    for u in TAILS:
        assert seat.quantile(u) - np.mean(READ) == pytest.approx(
            exact.ppf(u) - np.mean(READ), abs=1e-7 * exact.std(), rel=1e-6
        )


def test_one_reading_each_of_a_process_against_scipy(demo_text):
    """The next part: scale s sqrt(1 + 1/n), six times as wide as what is known of one part here."""
    job = with_seat(demo_text, f'measured = [{READ_TEXT}], of = "process"')
    seat, n = job.spreads["seats.main.diameter"], len(READ)
    exact = stats.t(n - 1, np.mean(READ), np.std(READ, ddof=1) * np.sqrt(1 + 1 / n))
    for u in TAILS:
        assert seat.quantile(u) - np.mean(READ) == pytest.approx(
            exact.ppf(u) - np.mean(READ), abs=1e-7 * exact.std(), rel=1e-6
        )
    one = with_seat(demo_text, f'measured = [{READ_TEXT}], of = "one_part"')
    ratio = seat.standard_deviation / one.spreads["seats.main.diameter"].standard_deviation
    assert ratio == pytest.approx(np.sqrt(n + 1))


def test_readings_with_a_gauge_by_brute_force(demo_text):
    """The sum of Student's t and a normal number, drawn a million times by NumPy."""
    job = with_seat(demo_text, f'measured = [{READ_TEXT}], of = "one_part", gauge = "0.4 um"')
    seat, n = job.spreads["seats.main.diameter"], len(READ)
    rng = np.random.default_rng(11)
    sums = (
        np.mean(READ)
        + np.std(READ, ddof=1) / np.sqrt(n) * rng.standard_t(n - 1, 1_000_000)
        + 0.4e-6 * rng.standard_normal(1_000_000)
    )
    assert seat.standard_deviation == pytest.approx(np.std(sums), rel=0.01)
    for u in (0.001, 0.05, 0.5, 0.9, 0.999):
        below = np.mean(sums < seat.quantile(u))
        assert below == pytest.approx(u, abs=5 * np.sqrt(u * (1 - u) / 1e6))
    # Samples of the study follow it, moved along with the value.
    moved = job.replace({"seats.main.diameter": "80.040 mm"})
    sample = drawn(moved, "seats.main.diameter", 4000)
    shifted = sums + (80.040e-3 - np.mean(READ))
    assert stats.ks_2samp(sample, shifted).pvalue > 1e-3


def test_readings_of_known_repeatability_are_normal(demo_text):
    job = with_seat(
        demo_text,
        'measured = ["80.034 mm", "80.036 mm"], of = "one_part", repeatability = "0.6 um", '
        'gauge = "0.8 um"',
    )
    exact = stats.norm(80.035e-3, np.hypot(0.6e-6 / np.sqrt(2), 0.8e-6))
    seat = job.spreads["seats.main.diameter"]
    for u in TAILS:
        assert seat.quantile(u) == pytest.approx(exact.ppf(u), abs=1e-7 * exact.std())


def test_a_process_is_told_by_its_capability(demo_text):
    """Cp 1.5 between limits 18 um apart: deviation 2 um; Cpk 1 puts the mean 6 um inside."""
    job = with_seat(
        demo_text,
        'spread = "process", low = "80.027 mm", high = "80.045 mm", cp = 1.5, cpk = 1.0, '
        'towards = "high"',
    )
    seat = job.spreads["seats.main.diameter"]
    assert seat.standard_deviation == pytest.approx(2e-6)
    assert job["seats.main.diameter"] == pytest.approx(80.039e-3)


def test_a_size_may_be_an_iso_class(demo_text):
    """80 n6 is +20 to +39 um (ISO 286-2, grade IT6 = 19 um: check T7-01)."""
    job = with_seat(demo_text, 'value = "80 mm", class = "n6", spread = "uniform"')
    seat = job.spreads["seats.main.diameter"]
    assert (seat.low, seat.high) == (pytest.approx(80.020e-3), pytest.approx(80.039e-3))
    assert job["seats.main.diameter"] == pytest.approx(80.0295e-3)


@pytest.mark.parametrize(
    ("told", "message"),
    [
        ('value = "80 mm", spread = "beta", low = "79 mm", high = "81 mm"', "deviation above zero"),
        ('value = "80 mm", spread = "normal", low = "79 mm"', "normal does not use low"),
        ('measured = ["80 mm"]', "needs a gauge deviation, or the repeatability, where there is"),
        (
            'measured = ["80 mm"], gauge = "1 um", part_temperature = "30 K"',
            "as a temperature difference",
        ),
        (
            'measured = ["80 mm"], gauge = "1 um", part_temperature = "300 degC"',
            "let the part cool",
        ),
        ('measured = ["80 mm"], gauge = "1 um", part_material = "4143"', "nearest: 4140"),
        ('value = "80 mm", spread = "uniform", part_temperature = "30 degC"', "does not use"),
        ('measured = ["80 mm", "80.1 N"]', '"N" is not a unit of length'),
        (
            'measured = ["80.03 mm", "80.04 mm"], gauge = "1 um"',
            r"of must say what the readings are of: one_part \(repeated readings of the part that "
            r"goes in\); these_parts .*; process",
        ),
        (
            'measured = ["80.03 mm", "80.04 mm"], gauge = "1 um", of = "two parts"',
            "'two parts' will not do: of must say",
        ),
        (
            'measured = ["80.03 mm", "80.04 mm"], gauge = "1 um", of = "one_part"',
            "spread measured of one part needs four readings or more, or the repeatability",
        ),
        (
            'measured = ["80.03 mm", "80.04 mm"], gauge = "1 um", of = "process"',
            "of a process needs four readings or more: fewer leave its deviation open",
        ),
        (
            'measured = ["80.03 mm", "80.04 mm"], of = "these_parts", repeatability = "1 um"',
            "repeatability is for readings of = one_part",
        ),
        ('value = "80 mm", spread = "uniform", of = "process"', "does not use of"),
        ('value = "80 mm", class = "z3", spread = "uniform"', "z3"),
        ('value = "80 mm", spread = "process", low = "79.9 mm", high = "80 mm"', "needs cp"),
        ('value = "80 mm", spread = "gamma"', "must be one of normal"),
    ],
)
def test_what_makes_no_sense_is_told(demo_text, told, message):
    with pytest.raises(fw.InputError, match=message):
        with_seat(demo_text, told)


def drawn(job, path, samples, **settings):
    study = job.study(samples, level="quick", **settings)
    return np.array([study._run.sample(i)[job.spreads[path].leaf] for i in range(samples)])


PATH = "seats.main.diameter"


def test_a_latin_hypercube_has_one_sample_in_every_stratum(demo_text):
    job, n = fw.Job.loads(demo_text), 500
    u = stats.norm(80.036e-3, 1.5e-6).cdf(drawn(job, PATH, n, design="latin_hypercube"))
    assert sorted(np.floor(u * n).astype(int)) == list(range(n))


def test_a_sobol_sequence_fills_every_box(demo_text):
    """256 samples of any input have one in each of 256 intervals. The first two by path make a
    (0, 8, 2)-net (Niederreiter 1992): one sample in each box of area 1/256, whatever its shape."""
    job, n = fw.Job.loads(demo_text), 256
    u = stats.norm(80.036e-3, 1.5e-6).cdf(drawn(job, PATH, n, design="sobol"))
    assert sorted(np.floor(u * n).astype(int)) == list(range(n))
    clearance, expansion = sorted(job.spreads)[:2]
    assert (clearance, expansion) == ("bearing.clearance", "bearing.expansion_factor")
    first = stats.uniform(140e-6, 20e-6).cdf(drawn(job, clearance, n, design="sobol"))
    second = stats.norm(1.0, 0.02).cdf(drawn(job, expansion, n, design="sobol"))
    for rows in (1, 2, 4, 8, 16, 32, 64, 128, 256):
        boxes = np.floor(first * rows) * n + np.floor(second * (n // rows))
        assert len(set(boxes)) == n


def test_designs_settle_means_faster_than_plain_sampling(demo_text):
    job = fw.Job.loads(demo_text)
    key = ("cold_build", "rings.sleeve.ring_yield_use")
    truth = job.study(400_000, seed=99, level="quick")[key].statistics.mean
    error = {
        design: np.std(
            [
                job.study(4096, seed=s, design=design, level="quick")[key].statistics.mean - truth
                for s in range(8)
            ]
        )
        for design in ("plain", "latin_hypercube", "sobol")
    }
    assert error["latin_hypercube"] < 0.3 * error["plain"]
    assert error["sobol"] < 0.3 * error["plain"]


def test_correlated_inputs_have_the_correlation_asked_for(demo_text):
    pair = ["rings.inner_thrust.bore", "rings.inner_back.bore"]
    told = f"\n[[correlation]]\nbetween = {pair}\nvalue = 0.8\n".replace("'", '"')
    job = fw.Job.loads(demo_text + told)
    first, second = (drawn(job, path, 4000) for path in pair)
    # Pearson's coefficient of 4000 normal pairs scatters by (1 - 0.8^2)/sqrt(4000) = 0.0057.
    assert np.corrcoef(first, second)[0, 1] == pytest.approx(0.8, abs=0.03)
    alone = fw.Job.loads(demo_text)
    assert np.std(second) == pytest.approx(np.std(drawn(alone, pair[1], 4000)), rel=0.05)


def test_correlations_that_cannot_be_are_refused(demo_text):
    a, b, c = "rings.sleeve.bore", "rings.inner_thrust.bore", "rings.inner_back.bore"
    told = "".join(
        f'\n[[correlation]]\nbetween = ["{x}", "{y}"]\nvalue = {v}\n'
        for x, y, v in ((a, b, 0.9), (b, c, 0.9), (a, c, -0.9))
    )
    with pytest.raises(fw.InputError, match="not positive definite"):
        fw.Job.loads(demo_text + told)
    with pytest.raises(fw.InputError, match="must name two inputs that scatter"):
        fw.Job.loads(
            demo_text + '\n[[correlation]]\nbetween = ["shaft.bore", "nut.torque"]\nvalue = 0.5\n'
        )


@pytest.mark.parametrize("design", ["plain", "latin_hypercube", "sobol"])
def test_a_design_gives_the_same_bits_on_one_and_two_threads(demo_text, design):
    job = fw.Job.loads(demo_text)
    one, two = (job.study(20_000, design=design, threads=t, level="quick") for t in (1, 2))
    assert [f.statistics.mean for f in one] == [f.statistics.mean for f in two]
    assert [f.statistics.bins for f in one] == [f.statistics.bins for f in two]


def test_an_unknown_design_is_told(demo_text):
    with pytest.raises(fw.InputError, match="design: 'halton' must be one of plain"):
        fw.Job.loads(demo_text).study(100, design="halton")
