import { bounds } from '../../../geometry';
import type { Face, Placement, Strip } from '../../../job';
import { pieceName, type SlabReport } from '../../../plan';
import { formatLength, type UnitSystem } from '../../../units';
import type { Item, XY } from '../../canvas/items';
import { faceItems } from '../stock/face-items';
import { movedItem } from './arranged';

/** A slab on the sheet: where its frame's origin comes to lie. */
export interface LaidSlab {
  readonly slab: SlabReport;
  readonly face: Face;
  readonly image: HTMLImageElement | null;
  readonly shift: XY;
}

/** Which texts stand where there is not room for all: cuts and names, then defects, sizes of offcuts, their bare names. */
const YIELDS = { cut: 0, defect: 1, size: 2, offcut: 3 } as const;

/** How far from an offcut's middle its name may stand, as a share of its length. */
const ASIDE = 0.25;
const cosine = (degrees: number): number => Math.cos((degrees * Math.PI) / 180);

/** Where along a cut its number may stand: at its beginning, at its end, between them. */
const ALONG = [1, 0.25, 0.75, 0.5] as const;

/** The slab's ghosted photo with its strips at full strength, its outline, defects (dashed those that reach it from the other face) and rough cuts. */
export function slabItems({ slab, face, image, shift }: LaidSlab, units: UnitSystem): Item[] {
  const items: Item[] = [];
  const { picture } = face;
  if (image && picture) {
    const { mmPerPx, x0, y0 } = picture;
    const map = [mmPerPx, 0, 0, mmPerPx, x0, y0] as const;
    items.push({ kind: 'picture', id: 'ghost', image, map, strength: 0.38 });
    for (const blank of slab.blanks) {
      items.push({ kind: 'picture', id: `strip-${blank.id}`, image, map, clip: blank.finished });
    }
  }
  const far = {
    defects: slab.farDefects.map(({ defect }) => defect),
    letters: new Map(slab.farDefects.map(({ letter, defect }) => [defect.id, letter])),
  };
  for (const item of faceItems(face, { far }))
    items.push(item.kind === 'text' ? { ...item, yields: YIELDS.defect } : item);
  for (const blank of slab.blanks) {
    items.push({ kind: 'line', id: `finished-${blank.id}`, points: blank.finished, closed: true, pen: 'cut' });
  }
  slab.offcuts.forEach(({ polygon, pieces }, i) => {
    items.push({ kind: 'line', id: `offcut-${i}`, points: polygon, closed: true, pen: 'faint' });
    pieces.forEach(({ polygon: clear, size, degrees }, k) => {
      items.push({ kind: 'line', id: `offcut-${i}-${k}`, points: clear, closed: true, pen: 'measured' });
      const sized = size.map((mm) => formatLength(mm, units, { decimals: 0 })).join(' × ');
      const name = pieceName(i, k, pieces.length);
      const { minX, maxX, minY, maxY } = bounds(clear);
      const [x, y] = [(minX + maxX) / 2, (minY + maxY) / 2];
      const turn = size[0] >= size[1] ? degrees : degrees + (degrees < 0 ? 90 : -90);
      const [dx, dy] = [ASIDE * Math.max(...size) * cosine(turn), ASIDE * Math.max(...size) * cosine(turn - 90)];
      const or: XY[] = [
        [x + dx, y + dy],
        [x - dx, y - dy],
      ];
      const label = { kind: 'text', at: [x, y], or, pen: 'measured', shape: 'bare', turn } as const;
      items.push({ ...label, id: `offcut-${i}-${k}-size`, text: `${name}: ${sized}`, yields: YIELDS.size });
      // Stands at the same place, and so only where there is no room for the size.
      items.push({ ...label, id: `offcut-${i}-${k}-name`, text: name, yields: YIELDS.offcut });
    });
  });
  for (const { number, line, stage } of slab.cuts) {
    if (stage !== 'rough') continue;
    items.push({ kind: 'line', id: `cut-${number}`, points: line, pen: 'rough' });
    const [[ax, ay], [bx, by]] = line;
    items.push({
      kind: 'text',
      id: `number-${number}`,
      at: line[0],
      or: ALONG.map((u): XY => [ax + u * (bx - ax), ay + u * (by - ay)]),
      text: String(number),
      pen: 'rough',
      shape: 'box',
      yields: YIELDS.cut,
    });
  }
  for (const key of slab.keys) {
    items.push({ kind: 'area', id: `key-${key.top}-${key.number}`, points: key.outline, hatch: 'key', pen: 'cut' });
  }
  const box = bounds(face.outline?.outer ?? slab.outline.outer);
  items.push({
    kind: 'text',
    id: 'name',
    at: [box.minX + 110, box.minY - 70],
    text: slab.name,
    pen: 'ink',
    shape: 'bare',
  });
  return items.map((item) => movedItem(item, shift, `${slab.slab}-${slab.face}-${item.id}`));
}

/** The joint line that a strip of a seamed placement has on its slab. */
export const jointOf = (strip: Strip): readonly [XY, XY] | null => strip.jointBack ?? strip.jointFront;

/** The slab on the sheet that a strip is cut from. */
export const laidOf = (strip: Strip, slabs: readonly LaidSlab[]): LaidSlab | undefined =>
  slabs.find(({ slab }) => slab.flitch === strip.flitch && slab.slab === strip.slab && slab.face === strip.face);

/** The joint lines of a placement on the slabs that carry it, heavy. */
export function jointItems(
  placement: Placement,
  slabs: readonly LaidSlab[],
  pen: 'joint' | 'chosen' | 'broken',
): Item[] {
  return placement.strips.flatMap((strip, i): Item[] => {
    const laid = laidOf(strip, slabs);
    const line = jointOf(strip);
    if (!laid || !line) return [];
    const points = line.map(([x, y]): XY => [x + laid.shift[0], y + laid.shift[1]]);
    return [{ kind: 'line', id: `joint-${placement.top}-${i}-${pen}`, points, pen }];
  });
}
