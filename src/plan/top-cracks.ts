import { apply, applyAll, type Segment, type WideLine } from '../geometry';
import { type Defect, defectLetters, isProposed, type Job, type Placement, type Strip, type Top } from '../job';
import { clipLine, type KeysInput } from '../keys';
import { farDefects, farLetters, reachingDefects, sameCrack, stripMap } from '../layout';
import type { TopReport } from './report';

/** What is keyed in a finished top, in its frame: the cracks that the maker means to key, and seams that are decorated. */

/** A line that keys stand on as it is reported, and what they are placed by besides. */
export interface KeyedLine {
  /** What it is of, wherever the top is laid: the crack of a face, or a seam by its number. */
  readonly of: string;
  /** The strip that it lies on; null for a seam. */
  readonly strip: Strip | null;
  readonly shown: TopReport['cracks'][number];
  readonly asked: Omit<KeysInput['cracks'][number], 'line'>;
}

/** A defect of a strip's face, with the crack of the other face that is one with it. */
interface Own {
  readonly defect: Defect;
  readonly far: Defect | null;
}

/** What a strip holds: the defects of its face, and those of the other face that go through and are not one with one of them. */
export function defectsOf(job: Job, { flitch, slab: slabId, face }: Strip): { own: Own[]; far: Defect[] } {
  const slab = job.flitches[flitch]?.slabs[slabId];
  if (!slab) return { own: [], far: [] };
  const below = farDefects(slab, face).filter(({ line }) => line !== undefined);
  const through = reachingDefects(slab, face).filter((defect) => defect.through);
  const own = Object.values(slab.faces[face].defects).map((defect): Own => {
    // Where this face says that it goes through, or the other face does, a crack that runs at the same place there is the same one.
    const far = defect.line
      ? ((defect.through ? below : through).find((other) => sameCrack(defect, other)) ?? null)
      : null;
    return { defect: far ? { ...defect, through: true } : defect, far };
  });
  return { own, far: through.filter((defect) => !own.some(({ defect: near }) => sameCrack(near, defect))) };
}

/** Every line of a top that is keyed: its cracks in the order of its strips, and its seams where they are to be decorated. */
export function keyedLines(job: Job, top: Top, placement: Placement): KeyedLine[] {
  const cracks = placement.strips.flatMap((strip) => cracksOn(job, strip));
  const numbered = cracks.map((crack, i) => ({ ...crack, shown: { ...crack.shown, mark: `C${i + 1}` } }));
  return [...numbered, ...(top.seamKeys ? seamsOf(placement).map(decorated) : [])];
}

function cracksOn(job: Job, strip: Strip): KeyedLine[] {
  const { own, far } = defectsOf(job, strip);
  const slab = job.flitches[strip.flitch]?.slabs[strip.slab];
  const letters = defectLetters(Object.values(slab?.faces[strip.face].defects ?? {}));
  const theirs = slab ? farLetters(slab, strip.face) : new Map<string, string>();
  const name = slab?.name ?? strip.slab;
  return [
    ...own.flatMap(({ defect, far: trace }) => crackOn(strip, name, defect, letters, '', trace)),
    ...far.flatMap((defect) => crackOn(strip, name, defect, theirs, '′', null)),
  ];
}

/** Less of a crack than this inside a strip, mm, is a matter of tracing. */
const SHORT = 5;

/** The pieces of a crack inside a strip. @param mark put behind its id: a crack of the other face may have the same one */
function crackOn(
  strip: Strip,
  slab: string,
  defect: Defect,
  letters: ReadonlyMap<string, string>,
  mark: string,
  trace: Defect | null,
): KeyedLine[] {
  if (!defect.line || defect.permit !== 'keyed') return [];
  const map = stripMap(strip);
  const inTop = (piece: WideLine) =>
    leftFirst(
      piece.map(([x, y, width]): WideLine[0] => {
        const [tx, ty] = apply(map, [x, y]);
        return [tx, ty, width];
      }),
    );
  const pieces = clipLine(defect.line, strip.finished, SHORT).map(inTop);
  const below = trace?.line ? clipLine(trace.line, strip.finished, SHORT).map(inTop) : [];
  // Where one of the two traces is cut into pieces, which belongs to which is not known: keys from below then stand under those above.
  const far = pieces.length === 1 && below.length === 1 ? (below[0] as WideLine) : null;
  const letter = letters.get(defect.id) ?? defect.id;
  const [a, b] = strip.toTop;
  return pieces.map((line, i): KeyedLine => {
    const [dash, part] = pieces.length > 1 ? [`-${i + 1}`, `, part ${i + 1}`] : ['', ''];
    return {
      of: `${strip.flitch}/${strip.slab}/${strip.face}/${defect.id}${mark}`,
      strip,
      shown: {
        id: `${strip.slab}-${defect.id}${mark}${dash}`,
        mark: '',
        short: `${letter}${part}`,
        called: `${letter} on ${slab}${part}`,
        seam: false,
        line,
        far,
        through: defect.through ?? false,
        proposed: isProposed(defect),
      },
      asked: {
        kind: 'crack',
        faces: defect.through ? 'both' : 'top',
        depth: defect.through === undefined ? 'unknown' : defect.through ? 'through' : 'surface',
        grain: (Math.atan2(b, a) * 180) / Math.PI,
        ...(far ? { far: asGiven(far) } : {}),
      },
    };
  });
}

/** A seam whose keys are a decoration. */
function decorated([a, b]: Segment<'top'>, i: number, { length }: readonly unknown[]): KeyedLine {
  const [name, called] = length > 1 ? [`seam ${i + 1}`, `seam ${i + 1}`] : ['seam', 'the seam'];
  return {
    of: `seam-${i + 1}`,
    strip: null,
    shown: {
      id: `seam-${i + 1}`,
      mark: `S${i + 1}`,
      short: name,
      called,
      seam: true,
      line: leftFirst([
        [a[0], a[1], 0],
        [b[0], b[1], 0],
      ]),
      far: null,
      through: false,
      proposed: false,
    },
    asked: { kind: 'seam', faces: 'top' },
  };
}

/** A line as the keys' input holds it. */
export const asGiven = (line: WideLine): [number, number, number][] => line.map(([x, y, w]) => [x, y, w]);

/** A line from its left end to its right one, as one stands before the top: x runs from right to left there. */
const leftFirst = (line: WideLine): WideLine =>
  (line[0]?.[0] ?? 0) < (line.at(-1)?.[0] ?? 0) ? [...line].reverse() : line;

/** The seams of a top in its frame, from front to back. */
export const seamsOf = ({ strips }: Placement): Segment<'top'>[] =>
  strips.flatMap((strip) =>
    strip.jointBack ? [applyAll(stripMap(strip), strip.jointBack) as unknown as Segment<'top'>] : [],
  );
