"""The thread and strength tables of the library as plain values: the calculations themselves read no files."""

from generator.audit.values import strengths as strengths_of
from generator.audit.values import thread_sizes
from generator.calculations.threads import METRIC, parse_thread
from generator.record.library import load
from tests.conftest import ROOT

LIBRARY = load(ROOT)
SIZES = thread_sizes(LIBRARY)
METRIC_SIZES = tuple(size for size in SIZES if size.thread.system == METRIC)
UNIFIED_SIZES = tuple(size for size in SIZES if size.thread.system != METRIC)
STRENGTHS = strengths_of(LIBRARY)


def strengths():
    return STRENGTHS


def thread(designation):
    return parse_thread(designation, METRIC_SIZES)
