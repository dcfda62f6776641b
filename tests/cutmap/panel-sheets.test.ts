import { describe, expect, it } from 'vitest';
import { cuttingMap, toDxf } from '../../src/cutmap';
import { bounds } from '../../src/geometry';
import { inventedRequest } from './invented';

/** The sheets of a set, their words, and the set that they are of. */
const made = inventedRequest(1).then((request) => ({ request, map: cuttingMap(request) }));

async function mapOf() {
  const { request, map } = await made;
  const [set] = request.report.sets;
  const named = (part: string) => map.sheets.filter(({ name }) => name.includes(part));
  const words = (part: string) =>
    named(part)
      .flatMap(({ groups }) => groups.flatMap(({ elements }) => elements))
      .flatMap((element) => (element.is === 'text' ? [element.text] : []))
      .join(' ');
  return { map, set: set!, request, named, words };
}

describe('sheets of a set of doors', () => {
  it('give every piece its leaf, how it lies, and its cut lines from the marked end and edge', async () => {
    const { set, words, request } = await mapOf();
    for (const front of set.fronts) {
      const said = words(`${front.id}-panel`);
      for (const piece of [...front.pieces, ...front.back]) {
        const own = request.job.sets.doors!.fronts[front.id]!;
        const cell = [...own.cells, ...own.backer].find(({ leaf }) => leaf === piece.leaf)!;
        // The leaf's outline begins at (0, 0): what is taped from its marks is the window's own place.
        const { minX, maxX, minY, maxY } = bounds(cell.window);
        expect(piece.along).toEqual([minX, maxX]);
        expect(piece.inward[0]).toBe(minY);
        expect(said).toContain(`${piece.number}: leaf ${piece.place} of Door board`);
        expect(said).toContain(minX.toFixed(1));
        expect(said).toContain(maxX.toFixed(1));
        expect(said).toContain(`From the marked edge ${minY.toFixed(1)} to ${maxY.toFixed(1)}.`);
      }
    }
    // Turned over like a page the marked edge goes to the other side, the marked end stays.
    const [first, second] = set.fronts[1]!.pieces;
    expect([first?.end, first?.edge, second?.end, second?.edge]).toEqual(['up', 'right', 'up', 'left']);
    expect(words('door-1-panel')).toContain('inner face up, turned over; marked end up, edge left');
  });

  it('carry each piece where its map says: corners of the window on corners of the cell', async () => {
    const { set } = await mapOf();
    for (const { pieces, back } of set.fronts) {
      for (const {
        toPanel: [a, b, c, d, e, f],
        window,
        cell,
      } of [...pieces, ...back]) {
        const box = bounds(window.map(([x, y]) => [a * x + c * y + e, b * x + d * y + f] as const));
        expect(Object.values(box)).toEqual(Object.values(bounds(cell)).map((v) => expect.closeTo(v, 6)));
      }
    }
  });

  it('say of each step of taping what the joint does, and where the grain goes on over a gap', async () => {
    const { set, words } = await mapOf();
    const [drawer, left, right] = set.fronts;
    expect(words(`${drawer!.id}-panel`)).toContain('Piece 3 with piece 4; the joint shows (0.10).');
    expect(left!.gaps).toEqual([{ to: right!.number, blend: 0.21, word: 'hard to see' }]);
    expect(words(`${left!.id}-panel`)).toContain(`over the gap to panel ${right!.number}.`);
    expect(words(`${drawer!.id}-panel`)).not.toContain('over the gap');
  });

  it('list the press: cores as pressed, glue by area, the bag, the stack, what is missed', async () => {
    const { set, words } = await mapOf();
    const said = words('press-list');
    // Two glue lines on 823 x 180 and twice on 420 x 740, at 180 g/m2.
    const area = 2 * (823 * 180 + 2 * 420 * 740);
    expect(set.press.glue).toEqual({ area, grams: expect.closeTo((area / 1e6) * 180, 9) });
    expect(said).toContain(`Glue for ${(area / 1e6).toFixed(2)}`);
    expect(set.press.loads?.flat().sort()).toEqual([1, 2, 3]);
    for (const needed of [
      'Into the bag together',
      'Its back wants three leaves',
      'ten tonnes',
      'The stack of leaves',
      '740.0 × 420.0',
    ])
      expect(said).toContain(needed);
  });

  it('cut the cores with their grain across the veneer, the cost of the sheets beside it', async () => {
    const { set, words } = await mapOf();
    const [{ cuts }] = set.press.cores as [(typeof set.press.cores)[0]];
    expect(cuts.sheets.flatMap(({ parts }) => parts).every(({ turned }) => turned)).toBe(true);
    expect(set.press.cost).toBe(48 * cuts.sheets.length);
    expect(words('cores')).toContain('1 sheet of MDF, 18 thick');
    expect(words('cores')).toContain('Its grain runs across the veneer.');
  });

  it('hold the set against the grade that a door asks for, and say which limits break, with their sections', async () => {
    const { set, words } = await mapOf();
    expect(set.grade?.grade).toBe('premium');
    const said = words('press-list');
    expect(said).toContain('8-7.2.2.1');
    for (const { holds, fronts } of set.grade!.lines) {
      if (holds !== false) continue;
      const numbers = fronts.map((id) => set.fronts.find((front) => front.id === id)!.number);
      expect(said).toContain(`no${numbers.length > 0 ? `: ${numbers.join(', ')}` : ''}`);
    }
  });

  it('label every leaf once, in sawing order', async () => {
    const { set, named } = await mapOf();
    const numbers = named('leaf-labels')
      .flatMap(({ groups }) => groups.flatMap(({ elements }) => elements))
      .flatMap((element) => (element.is === 'text' && element.size > 5 ? [element.text] : []));
    expect(numbers).toEqual(set.stack.map(({ place }) => String(place)));
  });

  it('draw a panel in true size, its joints on a layer of their own', async () => {
    const { map, set } = await mapOf();
    for (const front of set.fronts) {
      const drawing = map.drawings.find(({ name }) => name === `${front.id}-panel`)!;
      const on = (layer: string) =>
        drawing.groups
          .filter((group) => group.layer === layer)
          .flatMap(({ elements }) => elements.flatMap((e) => (e.is === 'path' ? [e] : [])));
      const { minX, maxX, minY, maxY } = bounds(on('OUTLINE')[0]!.points);
      expect([maxX - minX, maxY - minY]).toEqual([
        expect.closeTo(front.pressed.width, 6),
        expect.closeTo(front.pressed.height, 6),
      ]);
      expect(on('JOINT')).toHaveLength(front.pieces.length - 1);
    }
    expect(await toDxf(map.drawings.find(({ name }) => name === 'door-1-panel')!)).toContain('JOINT');
  });
});
