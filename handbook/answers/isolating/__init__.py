"""Parts of the question "what stops it": cuts, ladders, how a valve is turned."""
