/** The licence of a package of which something is shipped. */
export interface Licence {
  readonly name: string;
  readonly version: string;
  /** In short, as the package calls it. */
  readonly licence: string;
  /** In full; empty where the package brings none. */
  readonly text: string;
}
