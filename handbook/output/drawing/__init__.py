"""Plans drawn to scale as SVG: walls, symbols, lines, and labels that cover nothing."""
