import { formatLength, type LengthStyle, type UnitSystem } from './length';

/** Figures other than lengths, as they are printed: on screen, on paper and in tables alike. */

const NO_BREAK = '\u00a0';
const MM2_PER_FT2 = 304.8 * 304.8;
const KG_PER_LB = 0.45359237;
const N_PER_LBF = 4.4482216152605;
const MPA_PER_PSI = 0.006894757293168;

/** Rounded, with a true minus. */
function digits(value: number, decimals: number): string {
  const text = Math.abs(value).toFixed(decimals);
  return value < 0 && Number(text) !== 0 ? `−${text}` : text;
}

/** `±0.8` or `±1/32"`: a length's doubt as two standard deviations. Never rounded to nothing: the least step is shown instead. */
export function formatPlusMinus(mm: number, system: UnitSystem, style: LengthStyle = {}): string {
  const least = system === 'mm' ? 10 ** -(style.decimals ?? 1) : 25.4 / (style.denominator ?? 16);
  return `±${formatLength(Math.max(mm, least), system, style)}`;
}

/** `1.41 m²` or `15.2 ft²`, from mm². */
export function formatArea(mm2: number, system: UnitSystem): string {
  return system === 'mm' ? `${digits(mm2 / 1e6, 2)}${NO_BREAK}m²` : `${digits(mm2 / MM2_PER_FT2, 1)}${NO_BREAK}ft²`;
}

/** `48 kg` or `106 lb`. */
export function formatMass(kg: number, system: UnitSystem): string {
  return system === 'mm' ? `${digits(kg, 0)}${NO_BREAK}kg` : `${digits(kg / KG_PER_LB, 0)}${NO_BREAK}lb`;
}

/** `108 kN` or `24300 lbf`, from newtons. */
export function formatForce(newtons: number, system: UnitSystem): string {
  if (system === 'in') return `${digits(newtons / N_PER_LBF, 0)}${NO_BREAK}lbf`;
  return newtons < 10_000 ? `${digits(newtons, 0)}${NO_BREAK}N` : `${digits(newtons / 1000, 0)}${NO_BREAK}kN`;
}

/** `1.2 MPa` or `174 psi`. */
export function formatPressure(megapascal: number, system: UnitSystem): string {
  return system === 'mm'
    ? `${digits(megapascal, 1)}${NO_BREAK}MPa`
    : `${digits(megapascal / MPA_PER_PSI, 0)}${NO_BREAK}psi`;
}

/** `1234.50 EUR`: the currency is the job's own word for it. */
export function formatMoney(amount: number, currency: string): string {
  return `${digits(amount, 2)}${NO_BREAK}${currency}`;
}

/** `12 %`, from a share 0..1. */
export function formatShare(share: number, decimals = 0): string {
  return `${digits(share * 100, decimals)}${NO_BREAK}%`;
}

/** `14.5°`. */
export function formatAngle(degrees: number, decimals = 1): string {
  return `${digits(degrees, decimals)}°`;
}

/** `45 s`, `12 min` or `1 h 05 min`, from seconds. */
export function formatDuration(seconds: number): string {
  if (seconds < 59.5) return `${Math.round(seconds)}${NO_BREAK}s`;
  const minutes = Math.round(seconds / 60);
  if (minutes < 60) return `${minutes}${NO_BREAK}min`;
  return `${Math.floor(minutes / 60)}${NO_BREAK}h${NO_BREAK}${String(minutes % 60).padStart(2, '0')}${NO_BREAK}min`;
}

/** `0.13 mm` or `0.005 in`: what is thinner than a rule shows, such as a chip. */
export function formatThin(mm: number, system: UnitSystem): string {
  return system === 'mm' ? `${digits(mm, 2)}${NO_BREAK}mm` : `${digits(mm / 25.4, 3)}${NO_BREAK}in`;
}
