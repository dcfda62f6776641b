import { formatForce, formatLength, formatMass, formatPressure, type UnitSystem } from '../units';
import type { Drying, Fixing, GlueUp } from '../wood';
import type { Lift } from './lifting';

/** What the wood asks for, in the words of the shop: the same on the screen and on paper. */

const tenths = (mm: number, units: UnitSystem): string =>
  formatLength(mm, units, { decimals: 1, denominator: 32, unit: true });
const size = (mm: number, units: UnitSystem): string => formatLength(mm, units, { decimals: 0, unit: true });

/** A change that is expected between two bounds, as a length that is lost or gained. */
function changeWords({ expected, ...between }: Drying['width'], units: UnitSystem): string {
  const [a, b] = [Math.abs(between.least), Math.abs(between.most)].sort((p, q) => p - q) as [number, number];
  const [least, most] = [tenths(a, units), tenths(b, units)];
  const bounds = least === most ? most : `${least} to ${most}`;
  return expected === null ? bounds : `about ${tenths(Math.abs(expected), units)} (${bounds})`;
}

/** How a blank dries: what it loses, how it cups, what to beware of. */
export function dryingWords(drying: Drying, units: UnitSystem): string[] {
  const { from, to, cup, ringsDegrees, warning } = drying;
  if (from === to) return [`It stands at the site's ${to} % already.`];
  const words = [
    `From ${from} % to ${to} % it ${from > to ? 'loses' : 'gains'} ${changeWords(drying.width, units)} of its width and ${changeWords(drying.thickness, units)} of its thickness.`,
  ];
  if (cup !== null && ringsDegrees !== null) {
    const hollow = cup > 0 ? 'upper face' : 'underside';
    words.push(
      Math.abs(cup) < 0.1
        ? `The rings stand at about ${ringsDegrees.toFixed(0)}° to the face in its middle: it will hardly cup.`
        : `The rings stand at about ${ringsDegrees.toFixed(0)}° to the face in its middle: its ${hollow} may go hollow by up to ${tenths(Math.abs(cup), units)}.`,
    );
  } else if (ringsDegrees === null) words.push('Where the pith ran is not known, so neither is which way it will cup.');
  if (warning) words.push(warning);
  return words;
}

/** A weight with its spread, and whether one person should lift it. */
export function weightWords(
  { least, most }: { readonly least: number; readonly most: number },
  lift: Lift | null,
  units: UnitSystem,
): string {
  const weight = `${formatMass(least, units)} to ${formatMass(most, units)}`;
  if (!lift || lift.times <= 1) return weight;
  return `${weight}: ${lift.times.toFixed(1)} times what one person should lift from trestles (${formatMass(lift.limit, units)}); get help or a lift`;
}

/** How a seam is glued up. */
export function glueWords(glue: GlueUp, units: UnitSystem): string[] {
  const more = glue.byPressure > glue.bySpacing;
  return [
    `${glue.count} clamps, no more than ${size(glue.spacing, units)} apart, on both faces in turn; about ${Math.ceil(glue.grams / 5) * 5} g of glue.`,
    more
      ? `Spacing alone asks for ${glue.bySpacing}; those would press with ${formatPressure(glue.reached, units)}, where ${formatPressure(glue.pressure[0], units)} to ${formatPressure(glue.pressure[1], units)} is asked for (${formatForce(glue.force, units)} in all). Fewer clamps need a joint that closes by hand all along.`
      : `So many press with ${formatPressure(glue.reached, units)}; ${formatPressure(glue.pressure[0], units)} is asked for.`,
    'A live edge wants glue blocks or a caul cut to it. Never pull a joint shut; epoxy wants contact only.',
  ];
}

/** How a top moves over the year and where that goes. */
export function seasonWords(fixing: Fixing, units: UnitSystem): string {
  const to = [
    ...(fixing.front > 0.05 ? [`${tenths(fixing.front, units)} at the front`] : []),
    ...(fixing.back > 0.05 ? [`${tenths(fixing.back, units)} at the back`] : []),
  ].join(' and ');
  return `Over a year its depth changes by ${tenths(fixing.season, units)}: ${to}. Leave that free there; nothing may stop it.`;
}

/** The rows of screws of a top, from the front: distance from the front edge, and the hole. */
export function fixingRows(fixing: Fixing, units: UnitSystem): { readonly at: string; readonly hole: string }[] {
  return fixing.rows.map(({ at, fast, slot }) => ({
    at: size(at, units),
    hole: fast
      ? `round, ${tenths(fixing.screw, units)}: fast`
      : `slot ${tenths(Math.ceil(slot * 2) / 2, units)} long, across the grain`,
  }));
}
