import { keysInput, keysOutput, placeKeys } from '../../keys';
import type { Command } from '../command';
import { readInput } from '../input';
import { giveResult, jsonText, OUT } from '../output';

export const keys: Command = {
  summary: 'Butterfly keys along the cracks of a top',
  usage: '[INPUT.json] [--out FILE]',
  about: `
Places, sizes, depths, pockets and router templates of butterfly keys, and how their hold compares with the wood behind them.
INPUT.json (or standard input) gives the top, its cracks, the shop's key sizes and the species; rules that are left out take the
defaults that \`schema keys\` prints. Keys hold a crack; they do not stop drying.`,
  exampleInput: `
keys.json:
{"top":{"outline":[[0,0],[2200,0],[2200,640],[0,640]],"thickness":38},
 "cracks":[{"line":[[300,320,0],[600,330,6],[900,320,0]],"faces":"top"}],
 "sizes":[{"id":"medium","length":70,"end":39.1,"waist":21,"depths":[10,12,14]}],
 "router":{"bushing":30,"bit":10},"species":"walnut_black"}`,
  example: 'keys.json',
  options: OUT,
  operands: ['INPUT.json?'],
  shapes: async () => ({ output: keysOutput, inputs: { input: keysInput } }),
  async run(args, io) {
    const { value } = await readInput(args, io, keysInput);
    await giveResult(args, io, jsonText(placeKeys(value)));
  },
};
