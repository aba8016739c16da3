"""The pure logic: standard library only, no clock, no chance, no files of its own."""
