import { type Leaf, type LeafPhoto, leafCount, leavesInput, leavesOutput, matchPanels } from '../../leaves';
import type { Command } from '../command';
import { readFacePicture } from '../face-picture';
import { readInput } from '../input';
import { giveResult, jsonText, OUT } from '../output';
import { watch } from '../watch';

const readLeaf = async ({ image, mmPerPx, ...leaf }: LeafPhoto, folder: string, where: string): Promise<Leaf> => ({
  ...leaf,
  picture: await readFacePicture({ image, mmPerPx, ...leaf }, folder, where),
});

export const leaves: Command = {
  summary: 'How many leaves a board gives when it is resawn, and matched panels from their photos',
  usage: '[INPUT.json] [--out FILE]',
  about: `
INPUT.json (or standard input) gives the board, the finished leaf with its sanding, the saw's kerf, what is planed off between one cut and the
next (dressing) and off the outer face once, and the last piece that can be held safely. With "leafPhotos" (rectified faces, one per leaf in
sawing order, their paths relative to INPUT.json) and "panels" it also says which leaves make each panel, and what is cut out of each.`,
  exampleInput: `
board.json:
{"board":{"length":1650,"width":210,"thickness":46},"leaf":{"thickness":2,"sanding":0.6},
 "kerf":1.3,"dressing":0.5,"faceAllowance":0,"lastPiece":8}`,
  example: 'board.json',
  options: OUT,
  operands: ['INPUT.json?'],
  shapes: async () => ({ output: leavesOutput, inputs: { input: leavesInput } }),
  async run(args, io) {
    const { value, folder } = await readInput(args, io, leavesInput);
    const { leafPhotos, panels, ...board } = value;
    const count = leafCount(board);
    if (!leafPhotos || !panels) return giveResult(args, io, jsonText(count));
    const read: Leaf[] = [];
    for (const [i, photo] of leafPhotos.entries()) read.push(await readLeaf(photo, folder, `/leafPhotos/${i}`));
    const matched = await matchPanels(read, panels, board.kerf, watch(args, io, true));
    return giveResult(args, io, jsonText({ ...count, ...matched }));
  },
};
