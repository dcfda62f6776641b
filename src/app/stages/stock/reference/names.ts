/** What calibration calls a thing, as a maker says it: "marker 3" is a card; a tape check has its letter. */
export function spoken(name: string): string {
  const [, kind, number] = /^(marker|distance|point|rod) (\d+)$/.exec(name) ?? [];
  if (kind === 'marker') return `card ${number}`;
  if (kind === 'distance') return `tape check T${number}`;
  return name;
}

/** What to do about a thing that was left out, by its kind. */
export function mendFor(name: string): string {
  if (name.startsWith('marker'))
    return 'See that it lies flat on the wood, whole and in focus, and is as large as the others.';
  if (name.startsWith('point')) return 'Measure it again, and see that it is tapped on the very spot.';
  if (name.startsWith('rod')) return 'See that its length is right, and both ends are tapped on the very spots.';
  return '';
}
