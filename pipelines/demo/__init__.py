"""The invented demo shop: its export files, and the truth behind them. Shares no code with the estimators."""
