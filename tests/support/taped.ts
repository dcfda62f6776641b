import { bounds, crossingsAtX } from '../../src/geometry';
import type { Job, Slab, Taped } from '../../src/job';
import { surfacesOf } from '../../src/layout';
import type { Random } from '../../src/search';

/** What a person with a tape, callipers and a string finds of a slab that is known in truth, each as badly as such readings are. */

/** One standard deviation of a width or length by tape over a wany edge, of callipers on a sawn one, and of a string's gap, mm. */
const [TAPE, CALLIPERS, STRING] = [3, 0.7, 1];
/** Where the taper looks: as shares of the length, and this far in from the edges, mm. */
const [ENDS, EDGES] = [[0.1, 0.5, 0.9], 25] as const;

/** The same slab as it is known at the yard: no outline, no readings, of its holes the width that is clear of them. */
export function tapedSlab(slab: Slab, random: Random): Slab {
  const { outline } = slab.faces.top;
  const surfaces = surfacesOf(slab);
  if (!outline || !surfaces) throw new RangeError('the truth of a slab wants its outline and its readings');
  const { minX, maxX } = bounds(outline.outer);
  const about = (value: number, sigma: number, step: number) =>
    Math.round((value + sigma * random.normal()) / step) * step;
  const acrossAt = (x: number): readonly [number, number] => {
    const ys = crossingsAtX(outline.outer, x);
    return [ys[0] as number, ys.at(-1) as number];
  };
  const xOf = (share: number) => minX + share * (maxX - minX);
  const widths = ENDS.map((share) => {
    const [from, to] = acrossAt(xOf(share));
    return about(to - from, TAPE, 1);
  });
  const thick = (x: number, y: number) => surfaces.top.height([x, y]) - surfaces.bottom.height([x, y]);
  const thicknesses = [0.05, 0.95].flatMap((share) => {
    const [from, to] = acrossAt(xOf(share));
    return [from + EDGES, to - EDGES].map((y) => about(thick(xOf(share), y), CALLIPERS, 0.5));
  });
  const along = (share: number) => {
    const [from, to] = acrossAt(xOf(share));
    return surfaces.top.height([xOf(share), (from + to) / 2]);
  };
  const bow = about((along(0.02) + along(0.98)) / 2 - along(0.5), STRING, 0.5);
  // Holes are seen: the widest strip beside them is taped where they lie.
  const clears = Object.values(slab.faces.top.defects).flatMap(({ permit, polygon }) => {
    if (permit !== 'avoid' || !polygon) return [];
    const hole = bounds(polygon);
    const [from, to] = acrossAt((hole.minX + hole.maxX) / 2);
    return [about(Math.max(hole.minY - from, to - hole.maxY), TAPE, 1)];
  });
  const bare = { ...slab.faces.top, outline: null, outlineSigma: null, defects: {}, sapwood: [], pith: null };
  return {
    ...slab,
    thickness: null,
    faces: { ...slab.faces, top: bare },
    spots: {},
    warp: { bow, cup: null, twist: null, sigma: STRING },
    taped: {
      length: about(maxX - minX, TAPE, 1),
      widths: widths as unknown as Taped['widths'],
      thicknesses: thicknesses as unknown as Taped['thicknesses'],
      ...(clears.length > 0 && { clear: Math.min(...clears) }),
    },
  };
}

/** A job as it is known at the yard. */
export function tapedJob(job: Job, random: Random): Job {
  const known = structuredClone(job);
  for (const { slabs } of Object.values(known.flitches))
    for (const [id, slab] of Object.entries(slabs)) slabs[id] = tapedSlab(slab, random);
  return known;
}
