/** What a clear piece of an offcut is called on every sheet and screen: O1, or O1.2 where the offcut holds several. */
export const pieceName = (offcut: number, piece: number, pieces: number): string =>
  `O${offcut + 1}${pieces > 1 ? `.${piece + 1}` : ''}`;
