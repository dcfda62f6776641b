import { rectangle } from '../../src/geometry';
import { type Cell, DEFAULT_PRESSING, defaultDoor, emptyFace, type Job, type PanelSet } from '../../src/job';

/** Two doors in book match and a drawer front above them, out of a board of eight leaves: the job's `sets.doors`. Invented. */

const BOARD = 'board-1';
const LEAF = { length: 1600, width: 205 };

/** A piece `across` wide and `high` high that stands at (x, y) of its panel, cut out of a leaf from (along, inward) on. */
function piece(
  leaf: number,
  flipped: boolean,
  [x, y]: [number, number],
  [across, high]: [number, number],
  along: number,
): Cell {
  const inward = 12;
  return {
    board: BOARD,
    leaf: `leaf-${leaf}`,
    face: flipped ? 'bottom' : 'top',
    flip: flipped ? 'over' : 'none',
    // The grain (x of the leaf) runs down the panel; turned over like a page, what was left is right.
    toPanel: flipped ? [0, 1, 1, 0, x - inward, y - along] : [0, 1, -1, 0, x + across + inward, y - along],
    window: rectangle<'face'>(along, inward, along + high, inward + across),
    cell: rectangle<'panel'>(x, y, x + across, y + high),
  };
}

function front(
  door: string,
  copy: number,
  sequence: number,
  at: [number, number],
  finished: [number, number],
  leaves: number[],
  along: number,
) {
  const [width, height] = [finished[0] + 20, finished[1] + 20];
  const across = width / leaves.length;
  const cells = leaves.map((leaf, i) => piece(leaf, i % 2 === 1, [i * across, 0], [across, height], along));
  const trimmed = rectangle<'panel'>(10, 10, width - 10, height - 10);
  return {
    door,
    copy,
    sequence,
    at,
    finished: { width: finished[0], height: finished[1] },
    pressed: { width, height },
    trimmed,
    sight: trimmed,
    cells,
    joints: leaves.slice(1).map((_, i) => ({
      cells: [i, i + 1] as [number, number],
      kind: 'side' as const,
      line: [
        [(i + 1) * across, 0],
        [(i + 1) * across, height],
      ] as [[number, number], [number, number]],
      blend: 0.24 - 0.07 * i,
    })),
    backer: leaves.map((_, i) => piece(7 + (i % 2), false, [i * across, 0], [across, height], along)),
    blend: 0.17,
  };
}

export function withSet(job: Job): PanelSet {
  const leaves = Object.fromEntries(
    [1, 2, 3, 4, 5, 6, 7, 8].map((place) => {
      const outline = { outer: rectangle<'face'>(0, 0, LEAF.length, LEAF.width), holes: [] };
      return [
        `leaf-${place}`,
        { id: `leaf-${place}`, place, faces: { top: { ...emptyFace(), outline }, bottom: emptyFace() } },
      ];
    }),
  );
  const board = job.boards[BOARD];
  if (board) job.boards[BOARD] = { ...board, leaves };
  job.doors.door = { ...defaultDoor('door'), name: 'Doors', width: 400, height: 720, grade: 'premium' };
  job.doors.drawer = { ...defaultDoor('drawer'), name: 'Drawer', width: 803, height: 160, count: 1, match: 'slip' };
  job.shop = {
    ...job.shop,
    pressing: { ...DEFAULT_PRESSING, price: 48, grain: 'across', bag: { length: 1300, width: 2500 } },
  };
  const set: PanelSet = {
    id: 'doors',
    name: 'Doors of the north wall',
    fronts: {
      'drawer-1': front('drawer', 1, 1, [0, 0], [803, 160], [1, 2, 3, 4, 5], 40),
      'door-1': front('door', 1, 2, [0, 163], [400, 720], [1, 2, 3], 230),
      'door-2': front('door', 2, 3, [403, 163], [400, 720], [4, 5, 6], 230),
    },
    joints: [
      {
        from: { front: 'door-1', cell: 2 },
        to: { front: 'door-2', cell: 0 },
        kind: 'side',
        mirrored: true,
        lost: 8,
        blend: 0.21,
      },
    ],
    misses: [
      {
        front: 'door-2',
        what: 'back',
        reason: 'Its back wants three leaves and two are left.',
        mend: 'Saw one more (invented).',
      },
    ],
    spares: [],
    locked: ['door-1'],
    without: [`${BOARD} leaf-8`],
    cost: 3.1,
    gap: 0.02,
  };
  job.sets = { doors: set };
  job.keptSet = 'doors';
  return set;
}
