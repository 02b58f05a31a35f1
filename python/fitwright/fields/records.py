"""Results as plain records: dicts, CSV, data frames, Parquet. Numbers are SI, temperatures degC."""

from __future__ import annotations

import csv
import importlib
import io
import os
from pathlib import Path
from typing import TYPE_CHECKING, Any

from fitwright.fields import files
from fitwright.fields.arguments import checked
from fitwright.fields.errors import InputError

if TYPE_CHECKING:
    from collections.abc import Sequence

__all__ = ["Records", "csv_text"]


@checked
class Records:
    """A result that can be taken elsewhere, one record a line."""

    def to_dict(self) -> list[dict[str, Any]]:
        """One plain dict a line; numbers in SI, temperatures in degC, units beside them."""
        raise TypeError(f"{type(self).__name__} has no records")

    def to_csv(self, path: str | os.PathLike[str] | None = None) -> str:
        """The records as CSV text, and as a file where a path is given."""
        text = csv_text(self.to_dict())
        if path is not None:
            files.write_bytes(files.path_of(path, "path"), text.encode("utf-8"))
        return text

    def to_dataframe(self) -> Any:
        """The records as a pandas data frame; needs pandas."""
        try:
            pandas: Any = importlib.import_module("pandas")
        except ImportError as error:
            raise _missing("to_dataframe", "pandas") from error
        return pandas.DataFrame(self.to_dict())

    def to_parquet(self, path: str | os.PathLike[str]) -> Path:
        """The records as a Parquet file; needs pyarrow."""
        try:
            import pyarrow
            import pyarrow.parquet
        except ImportError as error:
            raise _missing("to_parquet", "pyarrow") from error
        target = files.path_of(path, "path")
        with files.new_file(target) as file:
            pyarrow.parquet.write_table(pyarrow.Table.from_pylist(self.to_dict()), file)
        return target


def csv_text(records: Sequence[dict[str, Any]]) -> str:
    """Records as CSV; columns in the order they first come in."""
    head = list(dict.fromkeys(key for record in records for key in record))
    file = io.StringIO()
    writer = csv.DictWriter(file, head, restval="", lineterminator="\n")
    writer.writeheader()
    writer.writerows(records)
    return file.getvalue()


def _missing(what: str, package: str) -> InputError:
    return InputError([(what, f"needs {package}: pip install {package}")])
