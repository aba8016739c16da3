"""What the grown-ups read, print and carry from one device to another."""
