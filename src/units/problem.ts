/**
 * Bad input, said as a sentence: what is wrong, where, and what mends it (DESIGN 7). It lives in the lowest room because every
 * room may throw it; the command line prints it as JSON and the screens put it beside the field.
 */
export class InputProblem extends Error {
  override readonly name = 'InputProblem';

  /**
   * @param message what is wrong, a whole sentence
   * @param where JSON pointer of the value at fault ('/blanks/0/polygon'), or a file's name; '' for the whole input
   * @param mend what to do about it, a whole sentence
   */
  constructor(
    message: string,
    readonly where: string,
    readonly mend: string,
  ) {
    super(message);
  }

  /** The same problem seen from outside: `prefix` goes before its path. */
  under(prefix: string): InputProblem {
    return new InputProblem(this.message, `${prefix}${this.where}`, this.mend);
  }
}

/** What somebody typed or sent, as a sentence quotes it: no longer than is read, `most` characters. */
export function quoted(text: string, most = 60): string {
  // Never half of a character.
  return `"${text.length > most ? `${text.slice(0, most).replace(/[\ud800-\udbff]$/, '')}…` : text}"`;
}
