import { DEFAULT_SHOP, defaultTop, emptyFace, emptyFlitch, emptyJob, emptySlab, type Job } from '../../src/job';

/** A slab of 1,200 x 300 with a wavy front edge, whose readings say that it is flat and 50 thick. */
function slab(id: string, place: number): Job['flitches'][string]['slabs'][string] {
  const wave = Array.from({ length: 25 }, (_, i): [number, number] => [1200 - i * 50, 300 + 8 * Math.sin(i + place)]);
  const spots = [0, 600, 1200].flatMap((x) =>
    [0, 150, 300].map((y) => ({
      id: `r${x}-${y}`,
      at: [x, y] as const,
      top: 50,
      bottom: 0,
      thickness: null,
      sigma: 0.3,
    })),
  );
  return {
    ...emptySlab(id, place),
    thickness: 50,
    moisture: 9,
    price: 80,
    faces: {
      top: { ...emptyFace(), outline: { outer: [[0, 0], [1200, 0], ...wave], holes: [] }, outlineSigma: 0.5 },
      bottom: emptyFace(),
    },
    spots: Object.fromEntries(spots.map((spot) => [spot.id, spot])),
  };
}

/** Two small slabs and a top that is too deep for either: invented, and quick to plan. */
export function smallJob(): Job {
  const flitch = {
    ...emptyFlitch('log', 'Log', 'walnut_black'),
    slabs: { front: slab('front', 1), back: slab('back', 2) },
  };
  const top = {
    ...defaultTop('shelf'),
    name: 'Shelf',
    length: 1000,
    depth: [400, 460] as [number, number],
    thickness: 38,
  };
  return {
    ...emptyJob('small', 'Small job', '2026-11-25'),
    shop: DEFAULT_SHOP,
    flitches: { log: flitch },
    tops: { shelf: top },
  };
}
