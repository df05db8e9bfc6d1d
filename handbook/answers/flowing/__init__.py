"""Parts of the questions about flow: the solved network, outlets, demand, standing water."""
