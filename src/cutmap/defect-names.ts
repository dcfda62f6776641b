import { type Defect, defectLetters, isProposed } from '../job';
import type { SlabReport } from '../plan';

/** What stands after the letter of a defect that a photo proposed and nobody confirmed. */
export const PROPOSED = '*';

/** A defect with what drawing and list call it. */
export interface NamedDefect {
  readonly name: string;
  readonly defect: Defect;
}

/** The defects of the face that is up: a, b, c*. */
export function ownNames({ defects }: Pick<SlabReport, 'defects'>): NamedDefect[] {
  const letters = defectLetters(defects);
  return defects.map((defect) => ({ name: starred(letters.get(defect.id) ?? '', defect), defect }));
}

/** Those of the other face that reach it: a′, b′*. */
export const farNames = ({ farDefects }: Pick<SlabReport, 'farDefects'>): NamedDefect[] =>
  farDefects.map(({ letter, defect }) => ({ name: starred(letter, defect), defect }));

const starred = (letter: string, defect: Defect): string => (isProposed(defect) ? `${letter}${PROPOSED}` : letter);
