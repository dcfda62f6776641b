import { defectLetters, type Job, type Placement } from '../job';
import { crackFate } from '../keys';
import { listed } from '../units';

type Fate = Exclude<ReturnType<typeof crackFate>, 'stays'>;

/** What becomes of the cracks at a top's ends when it is cut, a sentence for all of a slab that share it: end checks that go with the offcut, cracks that come to the new end. */
export function endCheckNotes(job: Job, { strips }: Placement): string[] {
  return strips.flatMap(({ flitch, slab: id, face, finished }) => {
    const slab = job.flitches[flitch]?.slabs[id];
    const outline = slab?.faces[face].outline;
    if (!slab || !outline) return [];
    const defects = Object.values(slab.faces[face].defects);
    const letters = defectLetters(defects);
    const alike = new Map<string, { kind: string; fate: Fate; names: string[] }>();
    for (const { id: defect, kind, line } of defects) {
      const fate = line && crackFate(line, outline.outer, finished);
      if (fate !== 'goes' && fate !== 'comes') continue;
      const group = alike.get(`${kind} ${fate}`) ?? { kind, fate, names: [] };
      alike.set(`${kind} ${fate}`, group);
      group.names.push(letters.get(defect) ?? defect);
    }
    return [...alike.values()].map(({ kind, fate, names }) => sentence(fate, kind, names, slab.name));
  });
}

function sentence(fate: Fate, kind: string, names: readonly string[], slab: string): string {
  const one = names.length === 1;
  const called = `${one ? `The ${kind}` : `The ${kind}s`} ${listed(names)} on ${slab}`;
  if (fate === 'goes') return `${called} ${one ? 'goes with the end that is' : 'go with the ends that are'} cut off.`;
  return one
    ? `${called} is cut through: it comes out at the end of the top, open there, and wants a key or fill.`
    : `${called} are cut through: they come out at the ends of the top, open there, and want keys or fill.`;
}
