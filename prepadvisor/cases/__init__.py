"""What a spot is: the colour as judged, the zones and places of a panel, the facts that rules ask about."""
