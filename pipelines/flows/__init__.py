"""Order, retries and schedule of the steps. No arithmetic."""
