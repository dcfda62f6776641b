/** Width of a saw's cut, in mm, least and most, and how far it was checked. */
export interface Kerf {
  readonly saw: string;
  readonly kerf: readonly [least: number, most: number];
  readonly checked: string;
}

export const KERFS: readonly Kerf[] = [
  { saw: 'bandsaw, narrow blade', kerf: [0.5, 1.15], checked: 'read in listings' },
  { saw: 'bandsaw, carbide resaw blade', kerf: [1.2, 1.6], checked: 'from memory' },
  { saw: 'table saw, full kerf', kerf: [3.2, 3.2], checked: 'read in listings' },
  { saw: 'table saw, thin kerf', kerf: [2.3, 2.5], checked: 'read in listings' },
  { saw: 'track saw', kerf: [1.6, 2.4], checked: '1.6 read in a listing, the rest from memory' },
  { saw: 'portable band mill', kerf: [1.8, 2.5], checked: 'from memory' },
  { saw: 'circle mill', kerf: [4.0, 7.1], checked: 'read (5/32 and 9/32 in)' },
  { saw: 'chainsaw mill', kerf: [6.4, 10], checked: '1/4 in read in a listing, 3/8 in from memory' },
];

/** Most that a router bit of a diameter (mm) may turn, in rpm: read in trade listings; what is marked on the bit rules. */
export function mostRpm(diameter: number): number | null {
  const inches = diameter / 25.4;
  if (inches <= 1) return 24_000;
  if (inches <= 2) return 18_000;
  if (inches <= 2.5) return 16_000;
  return inches <= 3.5 ? 12_000 : null;
}

/** Speed of a bit's rim in m/s: pi x diameter x turns. */
export function rimSpeed(diameter: number, rpm: number): number {
  return (Math.PI * diameter * rpm) / 60_000;
}
