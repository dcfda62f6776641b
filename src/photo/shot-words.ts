import type { Look } from './look';

/** What is said to a person who takes photos: a hint before the shot, remarks after it, and which of several is best. */

/** Below this even a picture's brightest parts are dim: paper in poor light (our own trials on darkened photos). */
const DARK = 90;
/** So much of the wood burnt out is worth a word. */
const BURNT = 0.08;
/** From here on a picture is blurred to the eye (our own trials: 0.2 sharp, 0.34 with a blur of 1 px, 0.53 with one of 2). */
const BLURRED = 0.45;
/** Two pictures of one thing that differ by less are as sharp as each other, and by more, one is plainly softer. */
const AS_SHARP = 0.02;
const SOFTER = 0.08;
/** Steeper than this, degrees, the far end is so small that its ± is large (practice, no source). */
const SLANTED = 50;
/** A slab that takes up less of the picture wastes its pixels. */
const SMALL = 0.5;
/** Cards that measure best. */
const CARDS = 4;

/** What is expected in a picture besides the wood: cards to be counted, or nothing. */
interface Expected {
  readonly cards: boolean;
}

/** A hint, in words, for who holds the camera: the worst first. `good` where nothing is amiss. */
export function hintOf(look: Look, { cards }: Expected): { says: string; good: boolean } {
  const says = amiss(look, cards);
  return says ? { says, good: false } : { says: 'Good. Hold still and press.', good: true };
}

function amiss({ cards, tilt, cutOff, fills, light, burnt, blur }: Look, counted: boolean): string | null {
  if (light < DARK) return 'Too dark. Let in more light.';
  if (burnt > BURNT) return 'Too bright: the wood is burnt out white. Shade it.';
  if (blur > BLURRED) return 'Blurred. Hold still, or wipe the lens.';
  if (counted && cards.length === 0) return 'No cards seen. Take them all in, without glare on them.';
  if (cutOff.length > 0) return `The slab runs out of the picture (${cutOff.join(', ')}). Step back.`;
  if (counted && cards.length < CARDS)
    return `Only ${cards.length === 1 ? '1 card' : `${cards.length} cards`} seen. Take all of them in: four measure best.`;
  if (tilt !== null && tilt > SLANTED) return 'Too slanted. Hold the camera higher, over the slab.';
  if (fills !== null && fills < SMALL) return 'The slab is small in the picture. Go nearer.';
  return null;
}

/** Which of several shots of one thing is the best: all cards, all of the slab, then the sharpest; a burnt one yields. */
export function bestShot(looks: readonly Look[]): number {
  const rank = ({ cards, poor, cutOff, blur, burnt, light }: Look) =>
    [poor.length - cards.length, cutOff.length, blur + burnt + (light < DARK ? 1 : 0)] as const;
  const order = looks.map((look, i) => ({ i, rank: rank(look) }));
  order.sort((a, b) => a.rank[0] - b.rank[0] || a.rank[1] - b.rank[1] || a.rank[2] - b.rank[2]);
  return order[0]?.i ?? 0;
}

/** What is to be said of a shot, among others of the same thing: how sharp it is first, then what it shows. */
export function remarksOn(look: Look, all: readonly Look[], { cards: counted }: Expected): string[] {
  const { cards, poor, tilt, cutOff, light, burnt } = look;
  return [
    sharpnessOf(look, all),
    ...(counted
      ? [cards.length === 0 ? 'No cards seen.' : cards.length === 1 ? '1 card.' : `${cards.length} cards.`]
      : []),
    ...(counted && poor.length > 0
      ? [`Too blurred or small to measure by: ${poor.length === 1 ? 'card' : 'cards'} ${poor.join(', ')}.`]
      : []),
    ...(cutOff.length > 0 ? [`The slab runs out of it (${cutOff.join(', ')}).`] : []),
    ...(light < DARK ? ['Too dark.'] : []),
    ...(burnt > BURNT ? [`Burnt out white: ${Math.round(100 * burnt)} % of the wood.`] : []),
    ...(tilt !== null && tilt > SLANTED ? ['Slanted: the far end is small.'] : []),
  ];
}

function sharpnessOf({ blur }: Look, all: readonly Look[]): string {
  const least = Math.min(...all.map((other) => other.blur));
  if (blur > BLURRED) return 'Blurred.';
  const alike = all.filter((other) => other.blur < least + AS_SHARP);
  if (blur < least + AS_SHARP) return alike.length > 1 ? 'Sharp.' : 'The sharpest.';
  return blur < least + SOFTER ? 'A little softer.' : 'Blurrier than the best.';
}
