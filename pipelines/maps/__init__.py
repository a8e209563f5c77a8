"""Source maps: what one export shape's headers and values mean in the contract, proposed, accepted, carried out."""
