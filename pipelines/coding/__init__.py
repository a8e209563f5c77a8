"""Free text of repair lines to components, positions, actions and reasons, each with a confidence or `unsure`."""
