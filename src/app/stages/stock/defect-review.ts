import { type Defect, type Face, isProposed } from '../../../job';
import { usualPermit } from '../../../plan';
import { announce } from '../../announce';
import { letters } from './face-items';
import type { StockView } from './view';

/** Settling what a photo proposed: accept, change, drop, one after the other. */

/** From here a proposal is called sure, or likely. */
const SURE = 0.8;
const LIKELY = 0.5;

/** How sure the photo is of a proposal, in a word; null for what a person has settled. */
export function sureness({ confidence }: Defect): 'sure' | 'likely' | 'maybe' | null {
  if (confidence === undefined) return null;
  return confidence >= SURE ? 'sure' : confidence >= LIKELY ? 'likely' : 'maybe';
}

/** The proposals of a face, the doubtful first: they need the eye, the sure ones can be taken together. */
export function proposals(face: Face): Defect[] {
  return Object.values(face.defects)
    .filter(isProposed)
    .sort((a, b) => (a.confidence ?? 0) - (b.confidence ?? 0));
}

/** The proposal after (or, with -1, before) a defect in that order, round and round; null when none is left. */
function proposalFrom(face: Face, id: string | null, turn: 1 | -1): string | null {
  const all = proposals(face);
  const here = all.findIndex((defect) => defect.id === id);
  if (here < 0) return (turn > 0 ? all[0] : all.at(-1))?.id ?? null;
  return all[(here + turn + all.length) % all.length]?.id ?? null;
}

/** Looks at the next or the previous proposal. */
export function turnTo(view: StockView, turn: 1 | -1): void {
  const face = view.face.peek();
  if (!face) return;
  const id = proposalFrom(face, view.defectId.peek(), turn);
  if (!id) {
    announce('No proposals are left to look at.');
    return;
  }
  view.handle.value = null;
  view.defectId.value = id;
  const defect = face.defects[id];
  if (defect) announce(`${named(face, defect)}, ${sureness(defect)}.`);
}

/** "crack c". */
const named = (face: Face, { id, kind }: Defect): string => `${kind} ${letters(face).get(id)}`;

/** Settles one proposal as one step that can be undone, says how many are left, and goes on to the next. */
export function settle(view: StockView, id: string, how: 'accept' | 'drop'): void {
  const face = view.face.peek();
  const defect = face?.defects[id];
  if (!face || !defect) return;
  const name = named(face, defect);
  const wasProposed = isProposed(defect);
  const next = proposalFrom(face, id, 1);
  view.editFace(`${how === 'accept' ? 'Accept' : 'Drop'} ${name}`, (draft) => {
    if (how === 'drop') delete draft.defects[id];
    else delete draft.defects[id]?.confidence;
  });
  view.handle.value = null;
  if (wasProposed) view.defectId.value = next === id ? null : next;
  else if (view.defectId.peek() === id) view.defectId.value = null;
  const done = how === 'accept' ? `Accepted: ${name}.` : `Dropped: ${name}. Undo brings it back.`;
  announce(wasProposed ? `${done} ${left(view)}` : done);
}

/** Accepts every proposal that the photo is sure of, as one step. */
export function acceptSure(view: StockView): void {
  const face = view.face.peek();
  if (!face) return;
  const sure = proposals(face).filter((defect) => sureness(defect) === 'sure');
  view.editFace('Accept the sure defects', (draft) => {
    for (const { id } of sure) delete draft.defects[id]?.confidence;
  });
  view.handle.value = null;
  view.defectId.value = view.face.peek() ? proposalFrom(view.face.peek() as Face, null, 1) : null;
  announce(`Accepted: ${sure.length}. ${left(view)}`);
}

function left(view: StockView): string {
  const face = view.face.peek();
  const count = face ? proposals(face).length : 0;
  return count === 0 ? 'None left to look at.' : `${count} left to look at.`;
}

/**
 * Calls a defect another kind. What is allowed of it follows, unless the person had chosen that. A proposal is settled by it, and the
 * next one comes.
 */
export function recast(view: StockView, id: string, kind: Defect['kind']): void {
  const face = view.face.peek();
  const defect = face?.defects[id];
  if (!face || !defect) return;
  const wasProposed = isProposed(defect);
  const next = proposalFrom(face, id, 1);
  view.editFace(`Defect ${letters(face).get(id)} is a ${kind}`, (draft) => {
    const own = draft.defects[id];
    if (!own) return;
    if (own.permit === usualPermit(own)) own.permit = usualPermit({ ...own, kind });
    own.kind = kind;
    delete own.confidence;
  });
  if (!wasProposed) return;
  view.handle.value = null;
  view.defectId.value = next === id ? null : next;
  announce(`${named(face, { ...defect, kind })}. ${left(view)}`);
}
