"""What the screen shows and the speaker says: thin, on pygame."""
