"""Water on the roof, in the gutter and down the pipe."""
