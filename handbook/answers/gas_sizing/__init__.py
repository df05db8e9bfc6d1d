"""Parts of the question about gas: pressures, tables, stretches and outlets."""
