/**
 * Cautions that go on the sheet of each kind of work, in our own words. They remind someone who knows the trade; they do not teach it, and
 * they stand behind the tool's own manual, the maker's data sheet, local law and codes, and whoever is licensed to judge.
 * Sources: the project's trade notes (tool manuals, magazines, NIOSH and OSHA limits, fire statistics, as far as read; the rest from memory).
 */
export type Work =
  | 'chainsaw'
  | 'crosscut'
  | 'rip'
  | 'router sled'
  | 'router template'
  | 'chisel'
  | 'resaw'
  | 'leaves'
  | 'lifting'
  | 'dust'
  | 'finish'
  | 'epoxy'
  | 'glue-up'
  | 'vacuum press'
  | 'patina'
  | 'keys'
  | 'fixing';

const CAUTIONS: Readonly<Record<Work, readonly string[]>> = {
  chainsaw: [
    'A chainsaw mill kicks back: wear chaps, boots, gloves, helmet, eye and ear protection, and never mill alone.',
    'Sweep the log for metal before every cut, and again after each slab.',
  ],
  crosscut: [
    'Sweep for metal first. Support both parts so that the kerf cannot close on the blade, and let nothing fall on your feet.',
    'Short or narrow offcuts are not held by hand: clamp them.',
  ],
  rip: [
    'Keep the riving knife and guard on. Use a push stick once a hand would come within 300 mm (12 in) of the blade.',
    'A slab opens or closes as its stress is freed: stop when the kerf pinches, and drive in a wedge.',
  ],
  'router sled': [
    'Clamp the slab and wedge every corner that rocks. A bit that meets a loose slab throws it.',
    'Keep to the speed marked on the bit; a wide bit turns slowly. Never reach under the sled, and unplug before changing the bit.',
    'Take shallow passes. Ears, eyes and lungs need protection; so do those of anyone near.',
  ],
  'router template': [
    'Fix template and work so that neither can shift. Plunge in steps, and let the bit stop before it leaves the template.',
    'Unplug before changing bit or bushing, and check that the bushing sits tight.',
  ],
  chisel: [
    'Pare with both hands behind the edge and the work clamped; keep the edge keen, and cap it when you lay it down.',
  ],
  resaw: [
    'Set the guard just above the wood. Push the last leaves through with a block, never with the fingers.',
    'A last piece too thin to hold safely stays on the board.',
    'Check the blade for drift and cracks before a board that cannot be bought again.',
  ],
  leaves: [
    'Cut leaves with a fresh blade along a clamped steel straightedge, in light strokes, across the grain first, the fingers behind its edge.',
    'A leaf splits along its grain and lifts in front of a saw: hold it down over its whole length, between two boards where a saw cuts it.',
  ],
  lifting: [
    'Over 23 kg (50 lb) get help or a lift. That figure is for one person, two hands, good footing and a compact load: a slab is none of these.',
    'A slab that stands on edge tips: chock it or lay it down. Weigh by the moisture of the day: wet wood can be half as heavy again.',
    'Walk the way first: doors, turns, stairs, and what the floor bears.',
  ],
  dust: [
    'Wood dust harms: it can cause asthma and cancer of the nose. Catch it at the tool and wear a fitted respirator, also while sweeping.',
    'Workplace limits differ by country and wood; some advise 1 mg/m³ or less. Spalted wood and some cedars call for more care.',
  ],
  finish: [
    'Rags with oil heat by themselves and catch fire. Spread them flat to dry out of doors, or soak them in water in a closed metal can.',
    'Read the data sheet for ventilation, and for what may touch food.',
  ],
  epoxy: [
    'Epoxy can make you allergic for life: gloves and sleeves, nothing on the skin, no solvent to wash it off.',
    'A deep pour overheats, smokes and cracks: keep to the depth that its maker allows, and pour again.',
  ],
  'glue-up': [
    'Never pull a joint shut with clamps: it opens again later, or the wood splits. Plane it until it closes by hand.',
    'Glue only parts whose moisture differs by 2 % or less. Epoxy wants contact, not pressure.',
    'A tight clamp holds a great force: keep clear of its line, and back a live edge with a caul cut to it.',
  ],
  'vacuum press': [
    'A vacuum bag presses with up to ten tonnes on each square metre: hollow work and weak forms collapse.',
    'Watch the gauge, and let the air in slowly.',
  ],
  patina: [
    'Ferric chloride burns and stains; liver of sulphur gives off a poisonous gas when it meets acid. Ventilate, wear gloves and goggles, never mix.',
  ],
  keys: [
    'Keys hold a crack; they do not stop wood from drying. Fit them when the wood is within 2 % of the moisture where it will stand.',
    'The hold figures compare layouts. They are no load that anyone may rely on: where people or structure depend on it, ask someone licensed.',
  ],
  fixing: [
    'Fix a top fast on one line only and let the rest slide, or it splits when the seasons change.',
    'Brackets, overhangs and supports follow local codes; a wide overhang that people lean on is for someone qualified to judge.',
  ],
};

/** What every sheet that leads to a cut says last. */
const GENERAL_CAUTION =
  "These are reminders, not training. Your tools' manuals, the makers' data sheets, local law and codes come first.";

/** The cautions for the kinds of work on a sheet, without repeats, the general one last. */
export function cautionsFor(...works: readonly Work[]): string[] {
  return [...new Set(works.flatMap((work) => CAUTIONS[work])), GENERAL_CAUTION];
}
