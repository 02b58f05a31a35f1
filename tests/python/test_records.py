"""Results taken elsewhere: dicts, CSV, data frames, Parquet, pickles; numbers in SI."""

from __future__ import annotations

import csv
import io
import pickle

import fitwright as fw
import numpy as np
import pyarrow.parquet
import pytest
from fitwright.fields.records import Records


@pytest.fixture(scope="module")
def results(demo, study):
    return {
        "findings": demo.evaluate(),
        "study": study,
        "sweep": demo.sweep({"nut.torque": ("400 N m", "900 N m", 5)}),
        "inputs": demo.inputs(),
        "reuse": demo.reuse_limits(["nut.torque"]),
        "worst": demo.worst_case("cold_build", "nut.preload"),
    }


KINDS = ["findings", "study", "sweep", "inputs", "reuse", "worst"]


@pytest.mark.parametrize("kind", KINDS)
def test_every_result_gives_records_csv_frames_and_parquet(results, kind, tmp_path):
    result = results[kind]
    assert isinstance(result, Records)
    records = result.to_dict()
    assert records
    assert len({tuple(record) for record in records}) == 1, "every line has the same columns"
    rows = list(csv.DictReader(io.StringIO(result.to_csv(tmp_path / "r.csv"))))
    assert len(rows) == len(records)
    assert (tmp_path / "r.csv").read_text(encoding="utf-8") == result.to_csv()
    frame = result.to_dataframe()
    assert list(frame.columns) == list(records[0])
    assert len(frame) == len(records)
    table = pyarrow.parquet.read_table(result.to_parquet(tmp_path / "r.parquet"))
    assert table.to_pylist() == records


def test_numbers_of_records_are_si(demo, results):
    found = {(r["state"], r["path"]): r for r in results["findings"].to_dict()}
    clamp = found["cold_build", "shoulder.clamp_low"]
    assert clamp["value"] == float(demo.evaluate()["cold_build", "shoulder.clamp_low"])
    assert (clamp["unit"], clamp["side"], clamp["limit"]) == ("N", "at_least", 8000.0)
    first = results["sweep"].to_dict()[0]
    assert first["nut.torque"] == 400.0


def test_quantiles_are_numbers(study):
    low, middle, high = (
        study.quantile("cold_build", "bearing.end_play", q) for q in (0.1, 0.5, 0.9)
    )
    assert low < middle < high
    assert middle.quantity == "fine"
    statistics = study["cold_build", "bearing.end_play"].statistics
    assert float(middle) == statistics.quantile(0.5).value
    with pytest.raises(fw.InputError, match=r"share: 1\.5 must be from 0 to 1"):
        study.quantile("cold_build", "bearing.end_play", 1.5)


def test_the_shortest_interval_of_a_skewed_output_is_shorter_than_the_middle_one(study):
    for share in (0.5, 0.9, 0.95):
        low, high = study.shortest_interval("cold_build", "rings.sleeve.grip_left", share)
        ends = [
            study.quantile("cold_build", "rings.sleeve.grip_left", q)
            for q in ((1.0 - share) / 2.0, (1.0 + share) / 2.0)
        ]
        assert high - low <= ends[1] - ends[0] + 1e-12


def test_the_shortest_interval_of_a_normal_output_is_the_middle_one(demo):
    """For a normal distribution the shortest interval is symmetric: +-1.96 deviations hold 95 %."""
    wide = demo.replace({"nut.torque": {"spread": "normal", "deviation": "20 N m"}})
    study = wide.study(100_000, seed=3, level="quick", progress=False, outputs=["nut.preload"])
    statistics = study["cold_build", "nut.preload"].statistics
    low, high = study.shortest_interval("cold_build", "nut.preload")
    half = 0.5 * float(high - low)
    # Friction is triangular beside the torque: a few per cent off the normal distribution.
    assert half == pytest.approx(1.96 * statistics.deviation, rel=0.06)
    with pytest.raises(fw.InputError, match="between 0 and 1"):
        study.shortest_interval("cold_build", "nut.preload", 1.0)


@pytest.mark.parametrize("kind", ["findings", "inputs", "sweep", "reuse", "worst"])
def test_results_pickle_and_print_themselves(results, kind):
    again = pickle.loads(pickle.dumps(results[kind]))
    assert repr(again) == repr(results[kind])
    assert again._repr_html_() == results[kind]._repr_html_()


def test_values_pickle_with_their_system(demo):
    value = demo["nut.torque"]
    again = pickle.loads(pickle.dumps(value))
    assert (float(again), again.quantity, repr(again)) == (float(value), "torque", repr(value))
    assert np.asarray([value])[0] == float(value)


def test_what_a_package_is_missing_for_is_told(results, monkeypatch, tmp_path):
    import sys

    monkeypatch.setitem(sys.modules, "pandas", None)
    with pytest.raises(fw.InputError, match="to_dataframe: needs pandas"):
        results["findings"].to_dataframe()
    monkeypatch.setitem(sys.modules, "pyarrow", None)
    with pytest.raises(fw.InputError, match="to_parquet: needs pyarrow"):
        results["findings"].to_parquet(tmp_path / "x.parquet")
