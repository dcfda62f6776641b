import { centroid, ribbon } from '../../../geometry';
import type { Defect, Face, Picture } from '../../../job';
import type { Item, XY } from '../../canvas/items';

/** Defects by letter in the order of the document: a, b, c ... z, aa, ab. */
export function letters(face: Face): Map<string, string> {
  return new Map(Object.keys(face.defects).map((id, i) => [id, letter(i)]));
}

function letter(place: number): string {
  const last = String.fromCharCode(97 + (place % 26));
  return place < 26 ? last : letter(Math.floor(place / 26) - 1) + last;
}

/** Where a defect's letter stands: the middle of a crack's line, the centre of an area. */
function placeOfDefect({ line, polygon }: Pick<Defect, 'line' | 'polygon'>): XY | null {
  const middle = line?.[Math.floor(line.length / 2)];
  if (middle) return [middle[0], middle[1]];
  return polygon ? centroid(polygon) : null;
}

/** What a defect covers, as a ring. */
function areaOfDefect({ line, polygon }: Pick<Defect, 'line' | 'polygon'>): readonly XY[] {
  // A hairline crack still has to be seen: half a millimetre each side.
  return polygon ?? ribbon(line ?? [], 0.5);
}

/** The outline, bark and defects of a face as line work. `chosen` is drawn heavy. */
export function faceItems(face: Face, chosen: string | null = null): Item[] {
  const names = letters(face);
  const items: Item[] = [];
  if (face.bark) items.push({ kind: 'line', id: 'bark', points: face.bark, closed: true, pen: 'faint' });
  if (face.outline) {
    items.push({ kind: 'line', id: 'outline', points: face.outline.outer, closed: true, pen: 'ink' });
    face.outline.holes.forEach((hole, i) => {
      items.push({ kind: 'line', id: `hole-${i}`, points: hole, closed: true, pen: 'ink' });
    });
  }
  for (const defect of Object.values(face.defects)) {
    const pen = defect.id === chosen ? 'chosen' : 'ink';
    const at = placeOfDefect(defect);
    items.push({ kind: 'area', id: `area-${defect.id}`, points: areaOfDefect(defect), hatch: defect.kind, pen });
    if (at)
      items.push({ kind: 'text', id: `letter-${defect.id}`, at, text: names.get(defect.id) ?? '', pen, shape: 'ring' });
  }
  return items;
}

/** The rectified picture of a face, where it lies in mm. */
export function pictureItem(id: string, image: HTMLImageElement, picture: Omit<Picture, 'file'>): Item {
  const { mmPerPx, x0, y0 } = picture;
  return { kind: 'picture', id, image, map: [mmPerPx, 0, 0, mmPerPx, x0, y0] };
}
