import type { Point } from '../geometry';
import type { Rod, Scale } from '../job';
import type { Raster } from '../raster';
import { InputProblem } from '../units';
import type { Local, Mark, SeenPoint } from './marks';
import { ROUGHLY_FLAT } from './marks';
import type { Corners } from './quad';
import type { Reference } from './reference-type';
import { rodEdges } from './rod-edges';

/** One standard deviation of a hand's click on a rod's end, mark or corner, px: worn, rounded and in its own shadow, one to two are common (practice, no source). */
const ROD_CLICK_SIGMA = 1.5;
/** A rule or tape of a metre may be off by this share (EC accuracy class II allows 0.5 mm on the metre; one standard deviation taken). */
const LENGTH_SIGMA = 0.0003;

/** One standard deviation of a rod's width as typed, mm, and of how far a rounded or shaded edge seems to lie aside. */
const WIDTH_SIGMA = 0.4;
/** A rod's edge is rounded, and its own shadow lies beside it, all along alike: px. */
const LEAST_EDGE_SIGMA = 0.4;

/** Rods as marks: their drawing has its origin amid the rod, x along it. */
export function rodMarks(photo: Raster, scale: Extract<Scale, { kind: 'rods' }>): Reference {
  const marks = scale.rods.map((rod, i): Mark => {
    if (Math.hypot(rod.px[0][0] - rod.px[1][0], rod.px[0][1] - rod.px[1][1]) < 20) {
      throw new InputProblem(
        `The two ends of rod ${i + 1} lie less than 20 pixels apart.`,
        `/rods/${i}/px`,
        'Click the two ends of the rod, or take the photo from nearer.',
      );
    }
    const half = rod.length / 2;
    const corners = cornersOf(rod, i);
    const seen = (at: Local, px: Point<'photo'>): SeenPoint => ({ at, px, sigma: ROD_CLICK_SIGMA });
    return {
      name: `rod ${i + 1}`,
      points: [
        seen([-half, 0], rod.px[0]),
        seen([half, 0], rod.px[1]),
        ...(rod.marks ?? []).map((mark) => seen([mark.at - half, 0], mark.px)),
        ...corners.map(({ at, px }) => seen(at, px)),
      ],
      edges: corners.length > 0 ? rodEdges(photo, clockwise(corners), rod.length, rod.width as number, i) : [],
      known: null,
      turns: true,
      above: rod.above ?? 0,
      ...ROUGHLY_FLAT,
      sizeSigma: LENGTH_SIGMA,
      lineSigma: WIDTH_SIGMA,
      dimension: { name: 'length', mm: rod.length },
    };
  });
  const rough = marks.map((mark) => ({ ...mark, edges: [] }));
  return {
    ways: [{ marks, rough }],
    start: null,
    leftOut: [],
    leastEdgeSigma: LEAST_EDGE_SIGMA,
    bias: { mean: 0, sigma: 0.2 },
    least: 2,
  };
}

/** Corners in the order of a drawing: from its top left, clockwise. */
function clockwise(corners: readonly { at: Local; px: Point<'photo'> }[]): Corners {
  const at = (x: number, y: number) =>
    corners.find((corner) => Math.sign(corner.at[0]) === x && Math.sign(corner.at[1]) === y)?.px as Point<'photo'>;
  return [at(-1, -1), at(1, -1), at(1, 1), at(-1, 1)];
}

/** The corners of a rod's top face, each given its end and side by where it lies, in whatever order they were clicked. */
function cornersOf({ px, corners, width, length }: Rod, i: number): { at: Local; px: Point<'photo'> }[] {
  if (!corners) return [];
  if (width === undefined) {
    throw new InputProblem(
      `Rod ${i + 1} has corners but no width.`,
      `/rods/${i}/width`,
      'Add the width of its top face, or leave the corners out.',
    );
  }
  const [a, b] = px;
  const placed = corners.map((corner) => {
    const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
    const along = (corner[0] - a[0]) * dx + (corner[1] - a[1]) * dy > (dx * dx + dy * dy) / 2 ? 1 : -1;
    const side = dx * (corner[1] - a[1]) - dy * (corner[0] - a[0]) > 0 ? 1 : -1;
    return { at: [(along * length) / 2, (side * width) / 2] as Local, px: corner };
  });
  if (new Set(placed.map(({ at }) => at.join())).size < 4) {
    throw new InputProblem(
      `The corners of rod ${i + 1} do not lie two and two at its ends, one on either side.`,
      `/rods/${i}/corners`,
      'Click the four corners of the rod that was laid between its two ends.',
    );
  }
  return placed;
}
