"""Uses over days: what builds up, and the plans that keep it off."""
