"""What a shop's own panels say of the line model's numbers: fit, choice of panels, calibration."""
