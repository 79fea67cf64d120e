"""Power, rack, radio, people: circuits, racks, stands, frequencies, exposure."""
