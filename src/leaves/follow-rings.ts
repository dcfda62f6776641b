import { type Control, pause, stage } from '../search';
import { type EndGrain, type PithPlace, pithPlaces } from './end-grain';
import { type BoardSheets, type PithCourse, roundRings } from './pith-course';
import { type Settled, settlePith } from './pith-settle';
import { type Track, trackPith } from './pith-track';
import { labelRings, type RingLabels } from './ring-labels';

/** Rings that join both faces of a board: their course, and which of them runs where on either face. */
export interface JoinedRings {
  readonly course: PithCourse;
  readonly labels: RingLabels;
}

/** An end is read to some degrees: depths of the pith in these proportions to what was read are tried. */
const DEPTHS = [1, 0.87, 1.15];

/**
 * Finds the rings that join both faces of a board. How the pith runs along it is told by how rings go on from station to station; where it runs on the
 * whole, by the end grain and by which course leaves the faces most alike.
 * @returns null where nothing was read at the end grain
 * @throws Cancelled
 */
export async function followRings(
  board: BoardSheets,
  endGrain: EndGrain,
  control: Control,
): Promise<JoinedRings | null> {
  const places = pithPlaces(endGrain, board.rows, board.thickness);
  if (places.length === 0) return null;
  const soft = { ...board, faces: [softened(board, 0), softened(board, 1)] as const };
  const tracked = ({ across, deep }: PithPlace): Track =>
    trackPith(soft, { across, deep }, roundRings(board, across, deep));
  let first: (Track & { readonly place: PithPlace }) | null = null;
  for (const [i, place] of places.entries()) {
    await pause(control, (0.15 * i) / places.length, 'Following the rings along the board');
    const track = tracked(place);
    if (!first || track.likeness > first.likeness) first = { ...track, place };
  }
  const { place } = first as NonNullable<typeof first>;
  let best: Settled | null = null;
  for (const [i, share] of DEPTHS.entries()) {
    await pause(control, 0.15 + 0.2 * i, 'Following the rings through the board');
    const { course } = tracked({ ...place, deep: place.deep * share });
    const settled = await settlePith(board, course, stage(control, 0.15 + 0.2 * i, 0.35 + 0.2 * i));
    if (!best || settled.likeness > best.likeness) best = settled;
  }
  const { course } = await settlePith(board, (best as Settled).course, stage(control, 0.75, 1));
  return { course, labels: labelRings(board, course) };
}

/** A face's lines a little softer across: single pixels lead a track astray. */
function softened({ rows, faces }: BoardSheets, f: 0 | 1): Float32Array {
  const lines = faces[f];
  return lines.map((tone, i) => {
    if (tone === 0) return 0;
    const before = i % rows > 0 ? (lines[i - 1] as number) || tone : tone;
    const after = i % rows < rows - 1 ? (lines[i + 1] as number) || tone : tone;
    return (before + 2 * tone + after) / 4;
  });
}
