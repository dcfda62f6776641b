import type { TextItem, XY } from './items';

/** A text and the room that it takes on screen, px. */
export interface SizedText {
  readonly item: TextItem;
  readonly width: number;
  readonly height: number;
}

type Box = readonly [minX: number, minY: number, maxX: number, maxY: number];

/**
 * Where the texts of a sheet stand at a zoom so that none lies over another: each at the first of its places that is free, those that yield least
 * first. One that finds none is left out; it is there again when the sheet is zoomed. Texts that never yield keep their place, whatever lies there.
 * @param taken places that no text may cover, each a square of `reach` px to either side
 * @returns places in the units of the sheet by the texts' ids
 */
export function placeTexts(
  texts: readonly SizedText[],
  zoom: number,
  taken: readonly XY[] = [],
  reach = 0,
): ReadonlyMap<string, XY> {
  const places = new Map<string, XY>();
  const boxes: Box[] = [];
  const fixed = texts.filter(({ item }) => item.yields === undefined);
  for (const text of fixed) {
    places.set(text.item.id, text.item.at);
    boxes.push(boxOf(text, text.item.at, zoom));
  }
  boxes.push(...taken.map(([x, y]): Box => [x * zoom - reach, y * zoom - reach, x * zoom + reach, y * zoom + reach]));
  const yielding = texts.filter(({ item }) => item.yields !== undefined);
  for (const text of yielding.sort((a, b) => (a.item.yields ?? 0) - (b.item.yields ?? 0))) {
    for (const at of [text.item.at, ...(text.item.or ?? [])]) {
      const box = boxOf(text, at, zoom);
      if (boxes.some((other) => overlap(box, other))) continue;
      boxes.push(box);
      places.set(text.item.id, at);
      break;
    }
  }
  return places;
}

/** The upright box around a text, turned as it is, px. */
function boxOf({ item: { turn = 0 }, width, height }: SizedText, [x, y]: XY, zoom: number): Box {
  const [cos, sin] = [Math.abs(Math.cos((turn * Math.PI) / 180)), Math.abs(Math.sin((turn * Math.PI) / 180))];
  const [w, h] = [(width * cos + height * sin) / 2, (width * sin + height * cos) / 2];
  return [x * zoom - w, y * zoom - h, x * zoom + w, y * zoom + h];
}

const overlap = (a: Box, b: Box): boolean => a[0] < b[2] && b[0] < a[2] && a[1] < b[3] && b[1] < a[3];
