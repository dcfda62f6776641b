/** Base45 (RFC 9285): bytes in the characters that a QR code packs tightest, three for every two bytes. */

const ALPHABET = '0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:';

export function toBase45(bytes: Uint8Array): string {
  let text = '';
  for (let i = 0; i < bytes.length; i += 2) {
    const pair = i + 1 < bytes.length;
    let n = pair ? 256 * (bytes[i] as number) + (bytes[i + 1] as number) : (bytes[i] as number);
    for (let k = 0; k < (pair ? 3 : 2); k++) {
      text += ALPHABET[n % 45];
      n = Math.floor(n / 45);
    }
  }
  return text;
}

/** The bytes of a text, or null where no bytes are written so. */
export function fromBase45(text: string): Uint8Array | null {
  if (text.length % 3 === 1) return null;
  const bytes = new Uint8Array(2 * Math.floor(text.length / 3) + (text.length % 3 ? 1 : 0));
  for (let i = 0, at = 0; i < text.length; i += 3) {
    const digits = [...text.slice(i, i + 3)].map((digit) => ALPHABET.indexOf(digit));
    if (digits.includes(-1)) return null;
    const n = digits.reduceRight((sum, digit) => 45 * sum + digit, 0);
    if (n > (digits.length === 3 ? 0xffff : 0xff)) return null;
    if (digits.length === 3) bytes[at++] = n >> 8;
    bytes[at++] = n & 0xff;
  }
  return bytes;
}
