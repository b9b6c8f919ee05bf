"""From shapes to things to buy: parts, order, packs, price."""
