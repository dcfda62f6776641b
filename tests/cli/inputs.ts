/** Inputs of the trade's worked cases (the project's trade notes, section 11; arithmetic derived there). */

const rectangle = (length: number, width: number) => [
  [-length / 2, -width / 2],
  [length / 2, -width / 2],
  [length / 2, width / 2],
  [-length / 2, width / 2],
];

/** Case a: a slab 2,600 x 560 x 54 with bow 9, cup 4, twist 3, crosscut to 2,250; and case b, its strip of 380. */
export const slabA = {
  warp: { length: 2600, width: 560, thickness: 54, bow: 9, cup: 4, twist: 3 },
  blanks: [
    { id: 'crosscut', polygon: rectangle(2250, 560), finished: 37 },
    { id: 'strip', polygon: rectangle(2250, 380), finished: 38 },
  ],
  sled: { bit: 50, depth: 3, stepover: 0.5, feed: 75 },
  sanding: 1,
  reserve: { second: 3, level: 1 },
};

/** Case b: slab B, 2,600 x 540 x 52, warped 6 / 5 / 8, and its strip of 320. */
export const slabB = {
  ...slabA,
  warp: { length: 2600, width: 540, thickness: 52, bow: 6, cup: 5, twist: 8 },
  blanks: [{ id: 'strip', polygon: rectangle(2250, 320), finished: 38 }],
};

/** Case c: leaves for four doors. */
export const board = {
  board: { length: 1650, width: 210, thickness: 46 },
  leaf: { thickness: 2, sanding: 0.6 },
  kerf: 1.3,
  dressing: 0.5,
  faceAllowance: 0,
  lastPiece: 8,
};

/** Case d: keys on a crack of 600. */
export const cracked = {
  top: {
    outline: [
      [0, 0],
      [2200, 0],
      [2200, 640],
      [0, 640],
    ],
    thickness: 38,
  },
  cracks: [
    {
      line: [
        [300, 320, 2],
        [900, 320, 2],
      ],
      faces: 'top',
    },
  ],
  sizes: [{ id: 'medium', length: 70, end: 39.1, waist: 21, depths: [10, 12, 14] }],
  router: { bushing: 30, bit: 10 },
  species: 'walnut_black',
};
