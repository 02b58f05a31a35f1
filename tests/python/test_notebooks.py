"""Every notebook runs from top to bottom with this interpreter, and is stored without outputs."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import nbformat
import pytest

FOLDER = Path(__file__).resolve().parents[2] / "notebooks"
NOTEBOOKS = sorted(FOLDER.glob("*.ipynb"))

#: In a process of its own: the tools that run a notebook leave sockets behind. The kernel is the
#: interpreter that runs the tests, whatever a user has installed under the name "python3".
RUN = """
import sys
import nbformat
from jupyter_client.kernelspec import KernelSpec, KernelSpecManager
from jupyter_client.manager import AsyncKernelManager
from nbclient import NotebookClient

class ThisPython(KernelSpecManager):
    def get_kernel_spec(self, kernel_name):
        command = [sys.executable, "-m", "ipykernel_launcher", "-f", "{connection_file}"]
        return KernelSpec(argv=command, display_name="this Python", language="python")

notebook = nbformat.read(sys.argv[1], as_version=4)
manager = AsyncKernelManager(kernel_name="python3", kernel_spec_manager=ThisPython())
client = NotebookClient(notebook, km=manager, timeout=900, resources={"metadata": {"path": "."}})
client.execute()
nbformat.write(notebook, sys.argv[2])
"""


def test_there_are_notebooks():
    assert NOTEBOOKS


@pytest.mark.parametrize("path", NOTEBOOKS, ids=lambda path: path.stem)
def test_a_notebook_runs(path, tmp_path):
    places = ("IPYTHONDIR", "JUPYTER_CONFIG_DIR", "JUPYTER_DATA_DIR", "JUPYTER_RUNTIME_DIR")
    surroundings = {**os.environ, **{name: str(tmp_path / name) for name in places}}
    surroundings["MPLBACKEND"] = "module://matplotlib_inline.backend_inline"
    done = subprocess.run(
        [sys.executable, "-c", RUN, str(path), "ran.ipynb"],
        cwd=tmp_path,
        env=surroundings,
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    notebook = nbformat.read(tmp_path / "ran.ipynb", as_version=4)
    code = [cell for cell in notebook.cells if cell.cell_type == "code"]
    assert all(cell.execution_count for cell in code if cell.source.strip())
    assert any(cell.outputs for cell in code)
    for output in (output for cell in code for output in cell.outputs):
        assert output.get("name") != "stderr", output.text


@pytest.mark.parametrize("path", NOTEBOOKS, ids=lambda path: path.stem)
def test_a_notebook_is_stored_without_outputs(path):
    notebook = nbformat.read(path, as_version=4)
    nbformat.validate(notebook)
    for cell in notebook.cells:
        if cell.cell_type == "code":
            assert cell.outputs == []
            assert cell.execution_count is None
