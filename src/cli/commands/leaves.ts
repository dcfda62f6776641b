import { leafCount, leavesInput, leavesOutput } from '../../leaves';
import type { Command } from '../command';
import { readInput } from '../input';
import { giveResult, jsonText, OUT } from '../output';

export const leaves: Command = {
  summary: 'How many leaves a board gives when it is resawn',
  usage: '[INPUT.json] [--out FILE]',
  about: `
INPUT.json (or standard input) gives the board, the finished leaf with its sanding, the saw's kerf, what is planed off between one cut and the
next (dressing) and off the outer face once, and the last piece that can be held safely.`,
  exampleInput: `
board.json:
{"board":{"length":1650,"width":210,"thickness":46},"leaf":{"thickness":2,"sanding":0.6},
 "kerf":1.3,"dressing":0.5,"faceAllowance":0,"lastPiece":8}`,
  example: 'board.json',
  options: OUT,
  operands: ['INPUT.json?'],
  shapes: async () => ({ output: leavesOutput, inputs: { input: leavesInput } }),
  async run(args, io) {
    const { value } = await readInput(args, io, leavesInput);
    await giveResult(args, io, jsonText(leafCount(value)));
  },
};
