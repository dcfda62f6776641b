/** What a ZIP says of one of its files (APPNOTE 4.3.12). */
export interface ZipEntry {
  readonly name: string;
  /** CRC-32 of the unpacked bytes. */
  readonly crc: number;
  /** Bytes as packed, and unpacked. */
  readonly packed: number;
  readonly unpacked: number;
}

/** Signatures, and the length of each record without its names: APPNOTE 4.3.12 and 4.3.16. */
const RECORD = { sign: 0x02014b50, length: 46 } as const;
const END = { sign: 0x06054b50, length: 22 } as const;
/** A ZIP may end in a comment of so many bytes. */
const MOST_COMMENT = 0xffff;

/**
 * The central directory of a ZIP, read without unpacking anything.
 * @throws RangeError when it is not whole: the file is cut short, damaged, or of the kind for more than 4 GiB
 */
export function zipDirectory(bytes: Uint8Array): ZipEntry[] {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  let end = bytes.length - END.length;
  const least = Math.max(0, end - MOST_COMMENT);
  while (end >= least && view.getUint32(end, true) !== END.sign) end--;
  if (end < least) throw new RangeError('no end of the directory');
  const count = view.getUint16(end + 10, true);
  let at = view.getUint32(end + 16, true);
  const names = new TextDecoder();
  return Array.from({ length: count }, () => {
    if (view.getUint32(at, true) !== RECORD.sign) throw new RangeError('no record where one should be');
    const [name, extra, comment] = [28, 30, 32].map((k) => view.getUint16(at + k, true)) as [number, number, number];
    const entry = {
      name: names.decode(bytes.subarray(at + RECORD.length, at + RECORD.length + name)),
      crc: view.getUint32(at + 16, true),
      packed: view.getUint32(at + 20, true),
      unpacked: view.getUint32(at + 24, true),
    };
    at += RECORD.length + name + extra + comment;
    return entry;
  });
}

/** CRC-32 as ZIP uses it: ISO 3309, reflected polynomial 0xedb88320. */
const TABLE = Uint32Array.from({ length: 256 }, (_, n) => {
  let c = n;
  for (let k = 0; k < 8; k++) c = c & 1 ? 0xedb88320 ^ (c >>> 1) : c >>> 1;
  return c;
});

export function crc32(bytes: Uint8Array): number {
  let c = 0xffffffff;
  for (const byte of bytes) c = (TABLE[(c ^ byte) & 0xff] as number) ^ (c >>> 8);
  return ~c >>> 0;
}
