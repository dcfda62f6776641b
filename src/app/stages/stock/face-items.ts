import { centroid, contains, distance, type Region, ribbon } from '../../../geometry';
import { type Defect, defectLetters, type Face, type Picture } from '../../../job';
import { reaches } from '../../../layout';
import type { AreaItem, Hatch, Item, Pen, XY } from '../../canvas/items';
import { LAYERS, type Layer } from './layers';
import { stretches } from './unseen-edge';

/** What the defects of a face are called. */
export const letters = (face: Face): Map<string, string> => defectLetters(Object.values(face.defects));

/** Where a defect's letter stands: the middle of a crack's line, the centre of an area. */
export function placeOfDefect({ line, polygon }: Pick<Defect, 'line' | 'polygon'>): XY | null {
  const middle = line?.[Math.floor(line.length / 2)];
  if (middle) return [middle[0], middle[1]];
  return polygon ? centroid(polygon) : null;
}

/** What a defect covers, as a ring. */
function areaOfDefect({ line, polygon }: Pick<Defect, 'line' | 'polygon'>): readonly XY[] {
  // A hairline crack still has to be seen: half a millimetre each side.
  return polygon ?? ribbon(line ?? [], 0.5);
}

/** What else is known of a face while it is looked at. */
interface Looked {
  /** The layers that are shown. */
  shown?: ReadonlySet<Layer>;
  /** The defect that is drawn heavy. */
  chosen?: string | null;
  /** Where the ± is wide. */
  doubt?: readonly Region<'face'>[];
  /** The other face's defects where they lie under this one, and how they are lettered there. */
  far?: { readonly defects: readonly Defect[]; readonly letters: ReadonlyMap<string, string> } | null;
  /** Strokes along the grain. */
  grain?: readonly (readonly XY[])[];
}

/** What is drawn of a face where nobody chose: its edges and defects. */
const LINE_WORK: ReadonlySet<Layer> = new Set<Layer>(['outline', 'bark', 'defects']);

/** A face as line work, layer upon layer. */
export function faceItems(face: Face, looked: Looked = {}): Item[] {
  const { shown = LINE_WORK, doubt = [], grain = [] } = looked;
  const layers: Partial<Record<Layer, () => Item[]>> = {
    hidden: () => face.hidden.map((points, i) => areaItem(`hidden-${i}`, points, 'hidden', 'faint')),
    doubt: () => doubt.map(({ outer, holes }, i) => ({ ...areaItem(`doubt-${i}`, outer, 'doubt', 'fine'), holes })),
    sapwood: () => face.sapwood.map((points, i) => areaItem(`sapwood-${i}`, points, 'sapwood', 'faint')),
    grain: () => [
      { kind: 'strokes', id: 'grain', lines: grain, pen: 'fine' },
      ...face.grainLines.map((points, i): Item => ({ kind: 'line', id: `grain-line-${i}`, points, pen: 'ink' })),
    ],
    bark: () => (face.bark ? [{ kind: 'line', id: 'bark', points: face.bark, closed: true, pen: 'faint' }] : []),
    outline: () => outlineItems(face),
    pith: () => (face.pith ? [{ kind: 'line', id: 'pith', points: face.pith, pen: 'centre' }] : []),
    defects: () => [
      ...farItems(looked, (defect) => reaches(defect) && !shown.has('far')),
      ...Object.values(face.defects).flatMap((defect) =>
        defectItems(defect, letters(face).get(defect.id) ?? '', defect.id === looked.chosen ? 'chosen' : 'ink'),
      ),
    ],
    far: () => farItems(looked, () => true),
  };
  return LAYERS.flatMap(([layer]) => (shown.has(layer) ? (layers[layer]?.() ?? []) : []));
}

const areaItem = (id: string, points: readonly XY[], hatch: Hatch, pen: Pen): AreaItem => ({
  kind: 'area',
  id,
  points,
  hatch,
  pen,
});

/** The wood's edge; broken, and saying so, where no photo shows it. */
function outlineItems(face: Face): Item[] {
  if (!face.outline) return [];
  const { seen, unseen } = stretches(face);
  const holes = face.outline.holes.map(
    (points, i): Item => ({ kind: 'line', id: `hole-${i}`, points, closed: true, pen: 'ink' }),
  );
  if (unseen.length === 0)
    return [{ kind: 'line', id: 'outline', points: face.outline.outer, closed: true, pen: 'ink' }, ...holes];
  return [
    { kind: 'strokes', id: 'outline', lines: seen, pen: 'ink' },
    { kind: 'strokes', id: 'unseen', lines: unseen, pen: 'broken' },
    ...unseen.flatMap((line, i): Item[] => {
      const at = line[Math.floor(line.length / 2)];
      return at ? [{ kind: 'text', id: `unseen-${i}`, at, text: 'not seen', pen: 'ink', shape: 'bare' }] : [];
    }),
    ...holes,
  ];
}

function defectItems(defect: Defect, letter: string, pen: Pen): Item[] {
  const at = placeOfDefect(defect);
  return [
    areaItem(`area-${defect.id}`, areaOfDefect(defect), defect.kind, pen),
    ...(at ? [{ kind: 'text', id: `letter-${defect.id}`, at, text: letter, pen, shape: 'ring' } as const] : []),
  ];
}

/** Defects of the other face, dashed, with the letters that they have there. */
function farItems({ far }: Looked, wanted: (defect: Defect) => boolean): Item[] {
  return (far?.defects ?? []).filter(wanted).flatMap((defect): Item[] => {
    const at = placeOfDefect(defect);
    const text = far?.letters.get(defect.id) ?? '';
    return [
      areaItem(`far-${defect.id}`, areaOfDefect(defect), 'none', 'broken'),
      ...(at ? [{ kind: 'text', id: `far-letter-${defect.id}`, at, text, pen: 'ink', shape: 'ring' } as const] : []),
    ];
  });
}

/** The defect whose letter or area lies at a place; the letter reaches `reach` mm around itself. */
export function defectAt(face: Face, at: XY, reach: number): string | null {
  const all = Object.values(face.defects);
  const away = (defect: Defect) => {
    const place = placeOfDefect(defect);
    return place ? distance(place, at) : Infinity;
  };
  const nearest = all.reduce<Defect | null>((best, one) => (best && away(best) <= away(one) ? best : one), null);
  if (nearest && away(nearest) <= reach) return nearest.id;
  return all.find((defect) => defect.polygon && contains(defect.polygon, at))?.id ?? null;
}

/** The rectified picture of a face, where it lies in mm. */
export function pictureItem(id: string, image: HTMLImageElement, picture: Omit<Picture, 'file'>): Item {
  const { mmPerPx, x0, y0 } = picture;
  return { kind: 'picture', id, image, map: [mmPerPx, 0, 0, mmPerPx, x0, y0] };
}
