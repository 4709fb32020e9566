"""Each calculation registered once: inputs with units and limits, results, formula, source."""
