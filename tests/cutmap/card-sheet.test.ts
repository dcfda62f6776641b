import { describe, expect, it } from 'vitest';
import { cardSheets, largestSide, PAPERS, toPdf } from '../../src/cutmap';
import { findMarkers, MARKER_COUNT, markerPattern } from '../../src/photo';
import { InputProblem } from '../../src/units';
import { openCv } from '../photo/opencv';
import { typeface } from './invented';

const POINT = 25.4 / 72;
const about = { title: 'Cards', date: '2026-11-25', language: 'en' };
/** Pixels per mm of the pictures that the pages are drawn into here: a printer's 150 dots an inch. */
const FINE = 6;

interface Box {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
  readonly fill: string | null;
}

/** What another reader makes of a page: its size, and every path as its box in mm from the top left, with the colour that fills it. */
async function readPage(bytes: Uint8Array, number: number) {
  const { getDocument, OPS } = await import('pdfjs-dist/legacy/build/pdf.mjs');
  const pdf = await getDocument({ data: bytes.slice(), useSystemFonts: false, verbosity: 0 }).promise;
  const page = await pdf.getPage(number);
  const [, , width, height] = page.view as [number, number, number, number];
  const { fnArray, argsArray } = await page.getOperatorList();
  const boxes: Box[] = [];
  let colour = '';
  fnArray.forEach((op, i) => {
    if (op === OPS.setFillRGBColor) colour = String(argsArray[i][0]);
    if (op !== OPS.constructPath) return;
    const [paint, , [x0, y0, x1, y1]] = argsArray[i] as [number, unknown, [number, number, number, number]];
    const fill = paint === OPS.fill ? colour : null;
    boxes.push({ x: x0 * POINT, y: (height - y1) * POINT, width: (x1 - x0) * POINT, height: (y1 - y0) * POINT, fill });
  });
  const { items } = await page.getTextContent();
  const words = items.map((item) => ('str' in item ? item.str : '')).join(' ');
  return { pages: pdf.numPages, width: width * POINT, height: height * POINT, boxes, words };
}

/** The page's filled boxes as a camera that is square to it would see them. */
function picture({ width, height, boxes }: Awaited<ReturnType<typeof readPage>>) {
  const [w, h] = [Math.round(width * FINE), Math.round(height * FINE)];
  const data = new Uint8ClampedArray(w * h).fill(255);
  for (const { x, y, width: bw, height: bh, fill } of boxes) {
    if (fill === null) continue;
    const grey = fill === '#000000' ? 0 : 255;
    // A pixel belongs to the box that holds its middle.
    for (let row = Math.ceil(y * FINE - 0.5); row < (y + bh) * FINE - 0.5; row++)
      data.fill(grey, row * w + Math.ceil(x * FINE - 0.5), row * w + Math.ceil((x + bw) * FINE - 0.5));
  }
  return { width: w, height: h, channels: 1 as const, data };
}

const print = async (side: number, count: number, paper: 'A4' | 'Letter', units: 'mm' | 'in' = 'mm') => {
  const face = await typeface();
  return toPdf(cardSheets({ side, count, paper, units, typeface: face }), face, about);
};

describe('cards to print', () => {
  it('carry the patterns of the dictionary as OpenCV itself draws them, every one', async () => {
    const { cv } = await openCv();
    const dictionary = cv.getPredefinedDictionary(cv.DICT_4X4_50);
    for (let id = 0; id < MARKER_COUNT; id++) {
      const image = new cv.Mat();
      cv.generateImageMarker(dictionary, id, 6, image, 1);
      const theirs = [...image.data].map((grey) => grey > 127);
      image.delete();
      const light = markerPattern(id);
      expect(Array.from({ length: 36 }, (_, k) => light(k % 6, Math.floor(k / 6)))).toEqual(theirs);
    }
    dictionary.delete();
    expect(() => markerPattern(50)).toThrow(InputProblem);
  });

  it.each([
    ['A4', 80, 4],
    ['A4', 60, 5],
    ['Letter', 76.2, 3],
    ['A4', 30, 12],
  ] as const)(
    'on %s with a side of %d mm are found in the PDF at that size, each number once',
    async (paper, side, count) => {
      const { cv } = await openCv();
      const bytes = await print(side, count, paper);
      const { pages } = await readPage(bytes, 1);
      const ids: number[] = [];
      for (let number = 1; number <= pages; number++) {
        const page = await readPage(bytes, number);
        const size = [page.width, page.height].sort((a, b) => a - b);
        expect(size[0]).toBeCloseTo(PAPERS[paper].width, 3);
        expect(size[1]).toBeCloseTo(PAPERS[paper].height, 3);
        for (const { id, corners } of findMarkers(cv, picture(page))) {
          ids.push(id);
          corners.forEach((p, k) => {
            const q = corners[(k + 1) % 4]!;
            expect(Math.abs(Math.hypot(p[0] - q[0], p[1] - q[1]) / FINE - side)).toBeLessThan(0.2);
          });
          expect(page.words).toContain(`card ${id}, black square`);
        }
      }
      expect(ids.sort((a, b) => a - b)).toEqual(Array.from({ length: count }, (_, i) => i));
    },
  );

  it('have check lines of 100.0 mm and 4 in on every sheet, and black squares of the very side', async () => {
    const bytes = await print(80, 5, 'A4');
    for (const number of [1, 2, 3]) {
      const { boxes, words } = await readPage(bytes, number);
      const lines = boxes.filter(({ height }) => height < 1e-6).map(({ width }) => width);
      expect(lines.some((width) => Math.abs(width - 100) < 0.01)).toBe(true);
      expect(lines.some((width) => Math.abs(width - 101.6) < 0.01)).toBe(true);
      const squares = boxes.filter(({ fill }) => fill === '#000000');
      expect(squares).toHaveLength(number === 3 ? 1 : 2);
      for (const { width, height } of squares)
        expect([width, height]).toEqual([expect.closeTo(80, 3), expect.closeTo(80, 3)]);
      expect(words).toContain('Print at actual size (100 %)');
    }
  });

  it.runIf(process.env.SLOW)(
    "keep every card whole: white all round it by a cell, off the printer's edge, off what is written",
    async () => {
      for (const paper of ['A4', 'Letter'] as const) {
        const face = await typeface();
        const side = largestSide(paper, face);
        for (const s of [25, 50, side]) {
          const page = await readPage(await print(s, 50, paper), 1);
          const cards = page.boxes.filter(({ fill, width }) => fill === null && Math.abs(width - s * 1.44) < 0.01);
          expect(cards.length).toBeGreaterThan(0);
          const squares = page.boxes.filter(({ fill }) => fill === '#000000');
          const lowest = Math.min(...page.boxes.filter(({ height }) => height < 1e-6).map(({ y }) => y));
          for (const card of cards) {
            expect(card.x).toBeGreaterThan(11.9);
            expect(card.x + card.width).toBeLessThan(page.width - 11.9);
            expect(card.y + card.height).toBeLessThan(lowest);
            const own = squares.filter(
              ({ x, y }) => x > card.x && y > card.y && x < card.x + card.width && y < card.y + card.height,
            );
            expect(own).toHaveLength(1);
            // A quiet zone of one cell is what the marker's finder wants (OpenCV, aruco tutorial).
            expect(own[0]!.x - card.x).toBeGreaterThan(s / 6);
          }
        }
      }
    },
  );

  it('speak inches where the job does', async () => {
    expect((await readPage(await print(76.2, 1, 'Letter', 'in'), 1)).words).toContain('black square 3"');
  });

  it.each([
    [0, 4, '/side'],
    [400, 4, '/side'],
    [Number.NaN, 4, '/side'],
    [80, 0, '/count'],
    [80, 51, '/count'],
    [80, 2.5, '/count'],
  ])('refuse a side of %d and %d cards with a mend', async (side, count, where) => {
    const face = await typeface();
    try {
      cardSheets({ side, count, paper: 'A4', units: 'mm', typeface: face });
      expect.unreachable();
    } catch (error) {
      expect(error).toBeInstanceOf(InputProblem);
      expect((error as InputProblem).where).toBe(where);
    }
  });
});
