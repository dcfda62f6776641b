import DxfParser from 'dxf-parser';
import { describe, expect, it } from 'vitest';
import { cuttingMap, type Sheet, type SheetRequest, toDxf } from '../../src/cutmap';
import { type Point, ringArea } from '../../src/geometry';
import { inventedRequest } from './invented';

/** A sink of 500 x 360 mm with corners of 60 mm, its middle at (800, 300) of the top. */
const SINK = [
  [1, 1],
  [-1, 1],
  [-1, -1],
  [1, -1],
].flatMap(([sx, sy], k) =>
  Array.from({ length: 13 }, (_, i): Point<'top'> => {
    const t = (Math.PI / 2) * (k + i / 12);
    return [800 + sx! * 190 + 60 * Math.cos(t), 300 + sy! * 120 + 60 * Math.sin(t)];
  }),
);

async function withSink(): Promise<SheetRequest> {
  const request = await inventedRequest(2);
  const tops = request.report.tops.map((top) => ({
    ...top,
    lines: { ...top.lines, holes: [...top.lines.holes, { name: 'Round sink', polygon: SINK }] },
  }));
  return { ...request, report: { ...request.report, tops } };
}

describe('shapes in full size', () => {
  it('are tiled: each tile with its register marks and check lines, all of the line on them, none for a plain box', async () => {
    const sheets = cuttingMap(await withSink()).sheets.filter(({ name }) => name.includes('-shape-'));
    // Of the invented top one hole is a box, which needs no template.
    expect(new Set(sheets.map(({ title }) => title.split(': ')[1]))).toEqual(new Set(['Round sink']));
    expect(sheets.length).toBeGreaterThan(4);
    const corners = new Set<string>();
    for (const { groups } of sheets) {
      const words = groups.flatMap(({ elements }) => elements).flatMap((one) => (one.is === 'text' ? [one.text] : []));
      expect(words).toContain('100 mm: must measure 100 mm');
      const line = groups.find(({ layer }) => layer === 'TEMPLATE');
      const [path] = line?.elements ?? [];
      if (path?.is !== 'path') continue;
      expect(Math.abs(ringArea(path.points))).toBeCloseTo(500 * 360 - (4 - Math.PI) * 60 * 60, -3);
      const xs = line!.clip!.map(([x]) => x);
      const ys = line!.clip!.map(([, y]) => y);
      const seen = (p: number, all: number[]) => p >= Math.min(...all) && p <= Math.max(...all);
      path.points.forEach(([x, y], i) => {
        if (seen(x, xs) && seen(y, ys)) corners.add(String(i));
      });
    }
    expect(corners.size).toBe(SINK.length);
  });

  it('say on a sheet, where they take more tiles than can be taped together, what to do instead, and which paper takes how many', async () => {
    const request = await withSink();
    const large = SINK.map(([x, y]): Point<'top'> => [x * 4, y * 4]);
    const tops = request.report.tops.map((top) => ({
      ...top,
      lines: { ...top.lines, holes: [{ name: 'Round table', polygon: large }] },
    }));
    const on = (paper: SheetRequest['paper']) =>
      cuttingMap({ ...request, paper, report: { ...request.report, tops } }).sheets.filter(({ name }) =>
        name.includes('-shape-1'),
      );
    const words = (sheet: Sheet) =>
      sheet.groups
        .flatMap(({ elements }) => elements.flatMap((one) => (one.is === 'text' ? [one.text] : [])))
        .join(' ');
    const [said, ...more] = on('A4');
    expect(more).toEqual([]);
    expect(words(said!)).toMatch(/not printed in full size: on A4 it would take \d\d+ sheets/);
    expect(words(said!)).toContain('counter-finished.dxf');
    // What it says of another paper is what that paper takes.
    const roll = Number(/a roll of 36 in: (\d+) sheet/.exec(words(said!))![1]);
    expect(on('Roll36')).toHaveLength(roll);
  });

  it('go into a drawing file of the finished top, their corners as arcs, as one stands before it', async () => {
    const drawing = cuttingMap(await withSink()).drawings.find(({ name }) => name === 'counter-finished')!;
    type Polyline = { layer: string; shape: boolean; vertices: { x: number; y: number; bulge?: number }[] };
    const lines = (new DxfParser().parseSync(await toDxf(drawing))!.entities as unknown as Polyline[]).filter(
      ({ layer }) => layer === 'FINISHED',
    );
    expect(lines.map(({ shape }) => shape)).toEqual([true, true, true]);
    const sink = lines[2]!.vertices;
    expect(sink.filter(({ bulge }) => bulge)).toHaveLength(4);
    // A quarter circle of 60: its chord is 60 times the root of two.
    const arc = sink.findIndex(({ bulge }) => bulge);
    const [p, q] = [sink[arc]!, sink[(arc + 1) % sink.length]!];
    expect(Math.hypot(p.x - q.x, p.y - q.y)).toBeCloseTo(60 * Math.SQRT2, 3);
    // Nearer the front than the back in the top, so in the lower half with y up; x runs to the left.
    const [outline] = lines;
    const middle = (all: Polyline['vertices'], key: 'x' | 'y') =>
      (Math.min(...all.map((one) => one[key])) + Math.max(...all.map((one) => one[key]))) / 2;
    expect(middle(outline!.vertices, 'x') + drawing.width / 2 - middle(sink, 'x') - 12).toBeCloseTo(800, 3);
  });
});
