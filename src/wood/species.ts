import { InputProblem } from '../units';
import { SPECIES_NOTES, SPECIES_TABLE } from './species-table';

/** How far a table's figure was checked against the handbook. */
type Checked = 'read' | 'read elsewhere' | 'read rounded' | 'from memory';

/** One figure of a table, with how far it was checked. */
export interface Cell {
  readonly value: number;
  readonly checked: Checked;
}

/** A species as the Wood Handbook (FPL-GTR-190, 2010) tabulates it. Null where it has no figure. */
export interface Species {
  readonly id: string;
  readonly name: string;
  readonly latin: string;
  readonly kind: 'hardwood' | 'softwood' | 'imported';
  /** Green to ovendry, %, Tables 4-3 and 4-4. */
  readonly shrinkage: { readonly radial: Cell; readonly tangential: Cell; readonly volumetric: Cell };
  /** On green volume and at 12 %, Tables 5-3b and 5-5b. */
  readonly gravity: { readonly green: Cell; readonly at12: Cell | null };
  /** Small clear pieces at 12 % moisture, psi as printed, Tables 5-3b and 5-5b. */
  readonly psi: {
    readonly rupture: Cell;
    readonly compressionParallel: Cell;
    readonly shearParallel: Cell | null;
    readonly tensionPerpendicular: Cell | null;
  };
  /** Change of dimension per % of moisture, Table 13-5. */
  readonly coefficient: { readonly radial: Cell | null; readonly tangential: Cell | null };
  readonly note: string | null;
}

const CHECKED: Readonly<Record<string, Checked>> = {
  '': 'read',
  s: 'read elsewhere',
  p: 'read rounded',
  m: 'from memory',
};

function cell(text: string): Cell | null {
  const [, digits, letter] = /^([\d.]+)([spm]?)$/.exec(text) ?? [];
  return digits === undefined ? null : { value: Number(digits), checked: CHECKED[letter ?? ''] as Checked };
}

function species(row: string): Species {
  const [id, name, latin, kind, ...figures] = row.split('|').map((text) => text.trim()) as [
    string,
    string,
    string,
    Species['kind'],
    ...string[],
  ];
  const [radial, tangential, volumetric, green, at12, rupture, compression, shear, tension, cr, ct] = figures.map(cell);
  return {
    id,
    name,
    latin,
    kind,
    shrinkage: { radial: radial as Cell, tangential: tangential as Cell, volumetric: volumetric as Cell },
    gravity: { green: green as Cell, at12: at12 ?? null },
    psi: {
      rupture: rupture as Cell,
      compressionParallel: compression as Cell,
      shearParallel: shear ?? null,
      tensionPerpendicular: tension ?? null,
    },
    coefficient: { radial: cr ?? null, tangential: ct ?? null },
    note: SPECIES_NOTES[id] ?? null,
  };
}

/** Every species of the table, in its order. */
export const SPECIES: readonly Species[] = SPECIES_TABLE.trim().split('\n').slice(1).map(species);

const words = (text: string): string[] => text.toLowerCase().match(/[a-z]+/g) ?? [];

/**
 * The species that an id, a trade name or a Latin name stands for, however it is cased or spaced. A part of a name will do
 * when only one species has it: 'walnut', but not 'oak'.
 * @throws InputProblem when none or more than one is meant
 */
export function findSpecies(name: string, where = '/species'): Species {
  const asked = words(name);
  const called = (s: Species) => [s.id, s.name, s.latin].map(words);
  const same = SPECIES.filter((s) => called(s).some((own) => own.join(' ') === asked.join(' ')));
  const like =
    same.length > 0 ? same : SPECIES.filter((s) => called(s).some((own) => asked.every((w) => own.includes(w))));
  if (asked.length > 0 && like.length === 1) return like[0] as Species;
  const ids = (like.length > 0 && asked.length > 0 ? like : SPECIES).map((s) => s.id).join(', ');
  throw asked.length > 0 && like.length > 1
    ? new InputProblem(`"${name}" can mean more than one species.`, where, `Name one of them: ${ids}.`)
    : new InputProblem(`"${name}" is not a species that is known here.`, where, `Name one of these: ${ids}.`);
}
