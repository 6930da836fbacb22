"""A short run of the machine of screens and commands; the long one is in tests/long."""

from hypothesis import HealthCheck, settings

from tests.tui.interleavings import Shop

TestShop = Shop.TestCase
TestShop.settings = settings(
    max_examples=6, stateful_step_count=14, deadline=None, suppress_health_check=list(HealthCheck)
)
