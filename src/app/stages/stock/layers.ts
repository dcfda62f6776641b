import { type Signal, signal } from '@preact/signals';
import type { Face } from '../../../job';

/** What can be shown on a face and hidden, in the order in which it is painted. */
export const LAYERS = [
  ['photo', 'Photo'],
  ['hidden', 'Hidden by cards'],
  ['doubt', 'Where the ± is over 2 mm'],
  ['sapwood', 'Sapwood'],
  ['grain', 'Grain'],
  ['bark', 'Bark'],
  ['outline', 'Outline'],
  ['pith', 'Pith'],
  ['defects', 'Defects'],
  ['far', 'All defects of the other face'],
] as const;
export type Layer = (typeof LAYERS)[number][0];

/** What a new person sees: what most decisions hang on. The grain takes a moment to read. */
const FIRST: readonly Layer[] = ['photo', 'doubt', 'sapwood', 'bark', 'outline', 'pith', 'defects'];
const KEY = 'waneline/layers';

/** The layers that are shown, here and the next time. */
export const shownLayers: Signal<ReadonlySet<Layer>> = signal(remembered());

/** Shows a layer or hides it. */
export function showLayer(layer: Layer, shown: boolean): void {
  const next = new Set(shownLayers.peek());
  if (shown) next.add(layer);
  else next.delete(layer);
  shownLayers.value = next;
  try {
    localStorage.setItem(KEY, JSON.stringify([...next]));
  } catch {
    // A private window may keep nothing: then it is so for now.
  }
}

function remembered(): ReadonlySet<Layer> {
  try {
    const kept: unknown = JSON.parse(localStorage.getItem(KEY) ?? 'null');
    const known = LAYERS.map(([layer]) => layer);
    if (Array.isArray(kept)) return new Set(known.filter((layer) => kept.includes(layer)));
  } catch {
    // Unreadable, or no such storage here: as for a new person.
  }
  return new Set(FIRST);
}

/** What of a face a layer has nothing to show of, or not all, in words; null where it has. */
export function emptyLayer(layer: Layer, face: Face): string | null {
  switch (layer) {
    case 'photo':
      return face.picture ? null : 'No photo read yet.';
    case 'hidden':
      return face.hidden.length > 0 ? null : 'Nothing lies on the wood.';
    case 'sapwood':
      return sapwoodSays(face);
    case 'grain':
      return face.picture ? null : 'Read from a photo.';
    case 'bark':
      return face.bark ? null : 'No bark can be told here.';
    case 'outline':
      return face.outline ? null : 'No outline yet.';
    case 'pith':
      return face.pith ? null : 'Not drawn yet.';
    case 'defects':
      return Object.keys(face.defects).length > 0 ? null : 'None marked.';
    case 'doubt':
    case 'far':
      return null;
  }
}

/**
 * What is not known of the sapwood. The photo tells it along every live side, along some, or along none; where it told it and none is left,
 * a person took it out.
 */
function sapwoodSays({ sapwood, sapwoodTold, picture }: Face): string | null {
  if (sapwood.length > 0) return sapwoodTold === false ? 'The photo does not tell it along every edge.' : null;
  if (!picture) return 'Not drawn yet.';
  if (sapwoodTold === undefined) return 'None drawn.';
  return sapwoodTold ? 'No sapwood.' : 'It cannot be told from the heart in this photo.';
}
