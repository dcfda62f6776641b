import { readFileSync } from 'node:fs';
import sharp from 'sharp';
import { beforeAll, describe, expect, it } from 'vitest';
import { densify, distanceToRing, distanceToSegment, type Point, type Polygon, ringArea } from '../../src/geometry';
import { readJob } from '../../src/job';
import { type Cv, type TracedPhoto, tracePhoto } from '../../src/photo';
import { rasterOf } from '../../src/raster';
import { slabReadings } from '../../src/surface';

/**
 * The demo photos traced as the demo job traces them, against the exact truth behind the rendering (tests/fixtures/truth). The truth's wood
 * outline is good to 0.1-0.4 mm; the tolerances are about twice what was reached, so that a real fault shows.
 */
interface Truth {
  wood_without_bark: { outer: Polygon<'face'>; area_mm2: number }[];
  cracks: { id: string; kind: string; centre_line_xyw: [number, number, number][]; max_width_mm: number }[];
  defects: { cls: string; outer: Polygon<'face'>; area_mm2: number }[];
}

let cv: Cv;
beforeAll(async () => {
  const module = (await import('opencv.js')) as unknown as { default: Promise<Cv> };
  ({ cv } = { cv: await module.default });
});

async function traced(slab: 'slab-2' | 'slab-3'): Promise<{ found: TracedPhoto; truth: Truth }> {
  const job = readJob(JSON.parse(readFileSync('demo-images/job.json', 'utf8')));
  const own = job.flitches['log-7']!.slabs[slab]!;
  const { data, info } = await sharp(`demo-images/${slab}.jpg`)
    .removeAlpha()
    .raw()
    .toBuffer({ resolveWithObject: true });
  const photo = rasterOf(info.width, info.height, 3, new Uint8ClampedArray(data));
  const found = await tracePhoto(cv, photo, own.faces.top.photos.p1!.scale, { readings: slabReadings(own).top });
  return { found, truth: JSON.parse(readFileSync(`tests/fixtures/truth/${slab}.json`, 'utf8')) };
}

/** Share of a line's length that lies within `reach` mm of one of the lines. */
function covered(
  line: readonly (readonly number[])[],
  lines: readonly (readonly (readonly number[])[])[],
  reach: number,
): number {
  const at = (p: readonly number[]): Point<'face'> => [p[0] as number, p[1] as number];
  const near = line.filter((p) =>
    lines.some((other) => other.slice(1).some((q, i) => distanceToSegment(at(p), [at(other[i]!), at(q)]) <= reach)),
  );
  return near.length / line.length;
}

describe.each(['slab-2', 'slab-3'] as const)('the photo of %s', (slab) => {
  let found: TracedPhoto;
  let truth: Truth;
  beforeAll(async () => {
    ({ found, truth } = await traced(slab));
  }, 120_000);

  it("traces the wood's edge, cards, bearers and bark left out", () => {
    const wood = truth.wood_without_bark[0]!.outer;
    const off = densify(wood, 5)
      .map((p) => distanceToRing(p, found.output.outline))
      .sort((a, b) => a - b);
    expect(off.reduce((sum, d) => sum + d, 0) / off.length).toBeLessThan(1);
    expect(off[Math.floor(0.95 * off.length)]).toBeLessThan(3.5);
    expect(Math.abs(ringArea(found.output.outline) / ringArea(wood) - 1)).toBeLessThan(0.005);
    // The ± that layout keeps as its margin is honest: 19 of 20 places lie within two sigma.
    expect(off[Math.floor(0.95 * off.length)]).toBeLessThan(2 * found.output.outlineSigma);
  });

  it('finds the long cracks nearly whole, three quarters of all cracks over 3 mm wide, and takes no ring or sapwood line for one', () => {
    const lines = found.output.defects.flatMap((d) => (d.kind === 'crack' ? [d.line] : []));
    let [length, seen] = [0, 0];
    for (const { id, kind, centre_line_xyw: line, max_width_mm } of truth.cracks) {
      if (max_width_mm <= 3) continue;
      const share = covered(line, lines, 4);
      // Cracks a finger apart at an end run together into one; a long crack must not be lost.
      if (kind === 'long') expect(share, id).toBeGreaterThan(0.85);
      length += line.length;
      seen += share * line.length;
    }
    expect(seen / length).toBeGreaterThan(0.75);
    const real = truth.cracks.map((crack) => crack.centre_line_xyw);
    const [drawn, stray] = lines.reduce(
      ([all, wrong], line) => {
        const points = densifyLine(line);
        return [all + points.length, wrong + points.length * (1 - covered(points, real, 8))];
      },
      [0, 0],
    );
    expect(stray / drawn).toBeLessThan(0.1);
  });

  it('proposes all but one of the knots, voids and bark inclusions over 10 cm2 that no card hides', () => {
    let missed = 0;
    const areas = found.output.defects.flatMap((d) => (d.kind === 'crack' ? [] : [d.polygon]));
    for (const { cls, outer, area_mm2 } of truth.defects) {
      if (cls === 'crack' || area_mm2 < 1000) continue;
      // One that a card hides cannot be seen.
      const hidden = found.traced.hidden.some((card) => outer.some((p) => distanceToRing(p, card) < 30));
      const near = Math.min(...areas.map((area) => Math.min(...outer.map((p) => distanceToRing(p, area)))));
      if (!hidden && near > 5) missed++;
    }
    expect(missed).toBeLessThanOrEqual(1);
  });
});

function densifyLine(line: readonly (readonly number[])[]): number[][] {
  return line.slice(1).flatMap((q, i) => {
    const p = line[i] as readonly number[];
    const [dx, dy] = [(q[0] as number) - (p[0] as number), (q[1] as number) - (p[1] as number)];
    const n = Math.max(1, Math.round(Math.hypot(dx, dy) / 4));
    return Array.from({ length: n }, (_, k) => [(p[0] as number) + (dx * k) / n, (p[1] as number) + (dy * k) / n]);
  });
}

describe('a photo without wood', () => {
  it('is refused with the way on', async () => {
    const grey = rasterOf(800, 600, 3, new Uint8ClampedArray(800 * 600 * 3).fill(150));
    const points = [
      { px: [100, 100] as const, mm: [0, 0] as const },
      { px: [700, 100] as const, mm: [1200, 0] as const },
      { px: [700, 500] as const, mm: [1200, 800] as const },
      { px: [100, 500] as const, mm: [0, 800] as const },
    ];
    await expect(
      tracePhoto(cv, grey, { kind: 'points', points: points.map(({ px, mm }) => ({ px, mm })) }),
    ).rejects.toMatchObject({
      name: 'InputProblem',
      mend: expect.stringMatching(/by hand/),
    });
  });
});
