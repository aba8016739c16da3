"""One scene a module; a scene never imports another."""
