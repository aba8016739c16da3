"""Ten Lamps: an offline practice game for children who learn to count, see, write and compare numbers to ten."""

__version__ = "0.1.0"
