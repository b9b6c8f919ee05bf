"""What holds the hoop and the cover: straps, screws, sleeves, stakes, battens."""
