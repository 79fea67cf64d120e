from __future__ import annotations

import math
import subprocess
import sys

import numpy as np
import pytest

from rigbook.physics import _numeric
from rigbook.physics.errors import OutOfRange


def test_importing_every_module_leaves_numpy_out() -> None:
    code = (
        "import importlib, pkgutil, sys, rigbook.physics as p\n"
        "for m in pkgutil.iter_modules(p.__path__): importlib.import_module('rigbook.physics.' + m.name)\n"
        "from rigbook.physics.levels import distance_loss\n"
        "distance_loss(8.0)\n"
        "print('numpy' in sys.modules)"
    )
    path = [entry for entry in sys.path if entry]
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True, env={"PYTHONPATH": ":".join(path)}
    )
    assert done.stdout.strip() == "False"


@pytest.mark.parametrize("function", [_numeric.exp, _numeric.sin, _numeric.cos, _numeric.log10])
def test_floats_and_arrays_agree(function) -> None:
    values = np.array([0.25, 1.0, 3.0])
    assert function(values) == pytest.approx([function(float(v)) for v in values])


def test_decimal_logarithm_of_zero_is_minus_infinity() -> None:
    assert _numeric.log10(0.0) == -math.inf
    assert _numeric.log10(np.zeros(2)).tolist() == [-math.inf, -math.inf]


@pytest.mark.parametrize("bad", [math.nan, math.inf, -1.0, np.array([1.0, -2.0]), np.array([1.0, math.nan])])
def test_require_refuses(bad) -> None:
    with pytest.raises(OutOfRange):
        _numeric.require("distance", bad, "m", 0)


def test_require_names_the_worst_value() -> None:
    with pytest.raises(OutOfRange) as caught:
        _numeric.require("distance", np.array([1.0, 7.0, 3.0]), "m", 0, 5)
    assert caught.value.value == 7.0


@pytest.mark.parametrize("good", [0.0, 5.0, np.array([0.0, 5.0]), np.array([])])
def test_require_accepts(good) -> None:
    _numeric.require("distance", good, "m", 0, 5)
