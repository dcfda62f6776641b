import { flatten as flattenBlanks, flattenInput, flattenOutput } from '../../flattening';
import type { Command } from '../command';
import { readInput } from '../input';
import { giveResult, jsonText, OUT } from '../output';

/** Over a blank of 2 m, a slope rounded to 0.001 would be out by 1 mm at its ends. */
const EXACT = ['a', 'b'];

export const flatten: Command = {
  summary: 'The thickest parallel board in a warped blank, its passes and its thickness budget',
  usage: '[INPUT.json] [--out FILE]',
  about: `
INPUT.json (or standard input) gives readings of both faces, or just bow, cup and twist, with the blanks to be cut and what the sled and the
shop take. For each blank: the thickest board, the spots that limit it, the shims that hold it at that tilt, passes and time of each face,
and the budget from the rough thickness to the finished one. What is left out takes the defaults that \`schema flatten\` prints.`,
  exampleInput: `
warp.json:
{"warp":{"length":2600,"width":560,"thickness":54,"bow":9,"cup":4,"twist":3},
 "blanks":[{"id":"front","polygon":[[-1125,-280],[1125,-280],[1125,280],[-1125,280]],"finished":38}]}`,
  example: 'warp.json',
  options: OUT,
  operands: ['INPUT.json?'],
  shapes: async () => ({
    output: flattenOutput,
    inputs: { input: flattenInput },
    exact: { keys: EXACT, because: 'the slopes of a plane count over metres' },
  }),
  async run(args, io) {
    const { value } = await readInput(args, io, flattenInput);
    await giveResult(args, io, jsonText(flattenBlanks(value), EXACT));
  },
};
