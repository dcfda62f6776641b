/** Both faces of a board on one grid, the far one laid on the upper: `[station][row]`, 0 where nothing is known. Rows are 1 mm. */
export interface BoardSheets {
  readonly stations: number;
  readonly rows: number;
  readonly thickness: number;
  readonly faces: readonly [upper: Float32Array, lower: Float32Array];
}

/** Where the pith runs along a board, and how its rings lie about it: what carries figure through the thickness. */
export interface PithCourse {
  /** One a station: rows across, from the sheet's first row. */
  readonly across: readonly number[];
  /** One a station: mm below the upper face; less than 0: above. */
  readonly deep: readonly number[];
  readonly shape: RingShape;
}

/** How far from round rings are, over the part of them that the board holds. */
export interface RingShape {
  /** Unit way from the pith to the middle of the board's section, across and up. */
  readonly axis: readonly [across: number, up: number];
  /** Shares of the radius that rings lose by the square and the cube of the sine off that way: flatter than round, and lopsided. */
  readonly oval: readonly [flat: number, lopsided: number];
}

/** Rings that are round, as they are seen from a pith. */
export function roundRings(
  { rows, thickness }: Pick<BoardSheets, 'rows' | 'thickness'>,
  across: number,
  deep: number,
): RingShape {
  const [u, v] = [rows / 2 - across, deep - thickness / 2];
  const far = Math.hypot(u, v);
  return { axis: far > 1 ? [u / far, v / far] : [0, 1], oval: [0, 0] };
}

/** The ring that runs through a place `u` mm across and `v` above the pith, as its radius on the axis, mm. */
export function ringThrough(u: number, v: number, { axis: [ax, ay], oval: [flat, lopsided] }: RingShape): number {
  const radius = Math.sqrt(u * u + v * v);
  if (radius < 1e-6) return 0;
  const sine = (u * ay - v * ax) / radius;
  return radius * (1 + sine * sine * (flat + lopsided * sine));
}

/** The rings of a level `depth` mm below the upper face, `[station][row]`. */
export function ringsAt(
  { stations, rows }: BoardSheets,
  { across, deep, shape }: PithCourse,
  depth: number,
): Float32Array {
  const rings = new Float32Array(stations * rows);
  for (let j = 0; j < stations; j++) {
    const [p, v] = [across[j] as number, (deep[j] as number) - depth];
    for (let r = 0; r < rows; r++) rings[j * rows + r] = ringThrough(r - p, v, shape);
  }
  return rings;
}

/** The row of a station, whose rings begin at `first`, where a ring comes out on one side of the pith; NaN where it does not. */
export function rowOfRing(
  rings: Float32Array,
  first: number,
  rows: number,
  pith: number,
  side: 1 | -1,
  ring: number,
): number {
  let near = side > 0 ? Math.max(0, Math.ceil(pith)) : Math.min(rows - 1, Math.floor(pith));
  let far = side > 0 ? rows - 1 : 0;
  if ((far - near) * side < 1) return Number.NaN;
  const at = (row: number) => rings[first + row] as number;
  if (!(ring >= at(near) && ring <= at(far))) return Number.NaN;
  while (Math.abs(far - near) > 1) {
    const middle = (near + far) >> 1;
    if (at(middle) <= ring) near = middle;
    else far = middle;
  }
  const [a, b] = [at(near), at(far)];
  return b > a ? near + ((far - near) * (ring - a)) / (b - a) : near;
}
