import { bounds } from '../../geometry';
import { type SeamSlab, seamInput, seamOutput, searchSeams } from '../../layout';
import type { Command } from '../command';
import { readFacePicture } from '../face-picture';
import { readInput } from '../input';
import { giveResult, jsonText, OUT } from '../output';
import { LIMITS, watch } from '../watch';

/** Beyond this no part of two slabs lies beside each other any more, mm. */
const reach = (slabs: readonly Pick<SeamSlab, 'outline'>[]): number =>
  slabs.reduce((sum, { outline }) => {
    const { minX, maxX, minY, maxY } = bounds(outline);
    return sum + Math.hypot(maxX - minX, maxY - minY);
  }, 0);

export const seam: Command = {
  summary: 'The joint lines along which two slabs look like one',
  usage: '[INPUT.json] [--out FILE] [--work N | --seconds N]',
  about: `
INPUT.json (or standard input) gives two rectified slab faces (their pictures' paths relative to INPUT.json), the front one first, the top, the
saw's kerf, the least strip, and the limits of the slide and of each joint's angle. Each seam found comes with its blend (share of imaginary kerfs
in the slabs' own uncut wood that match no better), the match of the lines over both edges, and both joint lines. One unit of work is one full
evaluation of a pair of lines.`,
  exampleInput: `
pair.json:
{"slabs":[{"id":"slab-1","image":"slab-1.png","mmPerPx":1,"outline":[[0,0],[1800,0],[1800,500],[0,500]]},
          {"id":"slab-2","image":"slab-2.png","mmPerPx":1,"outline":[[0,0],[1800,0],[1800,500],[0,500]]}],
 "top":{"length":1600,"depth":[600,650],"front":"live"},"kerf":3,"leastStrip":150,"slide":150,"angle":2,"ends":"either"}`,
  example: 'pair.json',
  options: { ...OUT, ...LIMITS },
  operands: ['INPUT.json?'],
  shapes: async () => ({ output: seamOutput, inputs: { input: seamInput } }),
  async run(args, io) {
    const { value, folder } = await readInput(args, io, seamInput);
    const decoded = async (i: 0 | 1): Promise<SeamSlab> => {
      const { image, mmPerPx, ...slab } = value.slabs[i];
      return { ...slab, picture: await readFacePicture({ image, mmPerPx, ...slab }, folder, `/slabs/${i}`) };
    };
    const slabs = [await decoded(0), await decoded(1)] as const;
    const question = { ...value, slabs, slide: Math.min(value.slide, reach(slabs)) };
    await giveResult(args, io, jsonText(await searchSeams(question, watch(args, io, true))));
  },
};
