import sharp from 'sharp';
import { BLOCKS, colourAt, grey, HEIGHT, WIDTH } from './blocks.ts';

/** Photos of every kind that a person may hand over, made from one picture of blocks, and what should come of each. */

const PIXELS = Uint8Array.from({ length: WIDTH * HEIGHT * 3 }, (_, i) => {
  const [x, y] = [Math.floor(i / 3) % WIDTH, Math.floor(i / 3 / WIDTH)];
  return colourAt(Math.floor(x / BLOCKS.side), Math.floor(y / BLOCKS.side))[i % 3] as number;
});
const greyBlocks = () =>
  sharp(
    PIXELS.filter((_, i) => i % 3 === 0).map((_, i) => grey([PIXELS[3 * i]!, PIXELS[3 * i + 1]!, PIXELS[3 * i + 2]!])),
    { raw: { width: WIDTH, height: HEIGHT, channels: 1 } },
  );
const blocks = () => sharp(PIXELS, { raw: { width: WIDTH, height: HEIGHT, channels: 3 } });

/** The picture stored as a camera that was turned stores it, with the orientation tag that makes it upright again (EXIF 2.3). */
async function turned(orientation: number): Promise<Buffer> {
  // Each is the inverse of what the tag says to do: 5 and 7 mirror over a diagonal, 6 and 8 turn.
  const picture = await blocks().png().toBuffer();
  const stored =
    {
      1: sharp(picture),
      2: sharp(picture).flop(),
      3: sharp(picture).rotate(180),
      4: sharp(picture).flip(),
      5: sharp(await sharp(picture).rotate(90).png().toBuffer()).flop(),
      6: sharp(picture).rotate(270),
      7: sharp(await sharp(picture).rotate(270).png().toBuffer()).flop(),
      8: sharp(picture).rotate(90),
    }[orientation] ?? sharp(picture);
  return stored.jpeg({ quality: 95 }).withMetadata({ orientation }).toBuffer();
}

const heif = (brand: string) =>
  Uint8Array.from([0, 0, 0, 24, ...new TextEncoder().encode(`ftyp${brand}`), ...new Uint8Array(40)]);

/** A JPEG whose XMP says that it was stitched on a cylinder, as panorama programs write it. */
async function panorama(): Promise<Buffer> {
  const xmp = `http://ns.adobe.com/xap/1.0/\0<x:xmpmeta><rdf:Description GPano:ProjectionType="cylindrical"/></x:xmpmeta>`;
  const photo = await blocks().jpeg().toBuffer();
  const head = Buffer.alloc(4);
  head.writeUInt16BE(0xffe1, 0);
  head.writeUInt16BE(xmp.length + 2, 2);
  return Buffer.concat([photo.subarray(0, 2), head, Buffer.from(xmp, 'latin1'), photo.subarray(2)]);
}

/** A JPEG that says that it is larger than it is: a bomb in a decoder's memory. */
async function claiming(width: number, height: number): Promise<Buffer> {
  const bytes = await blocks().jpeg().toBuffer();
  const at = bytes.findIndex((b, i) => b === 0xff && bytes[i + 1] === 0xc0);
  bytes.writeUInt16BE(height, at + 5);
  bytes.writeUInt16BE(width, at + 7);
  return bytes;
}

const frames = () =>
  sharp(Buffer.concat([PIXELS, PIXELS.map((v) => 255 - v)]), {
    raw: { width: WIDTH, height: 2 * HEIGHT, channels: 3, pageHeight: HEIGHT },
  });

/**
 * Files that show the picture, whatever they are made of. `grey` ones show its lightness. `within`: what packing may change, of 255; of inks, each decoder has its own idea, but a negative would be off by 200.
 */
export const READABLE: readonly { name: string; grey?: boolean; within: number; bytes(): Promise<Uint8Array> }[] = [
  ...[1, 2, 3, 4, 5, 6, 7, 8].map((orientation) => ({
    name: `a JPEG turned by EXIF orientation ${orientation}`,
    within: 12,
    bytes: () => turned(orientation),
  })),
  { name: 'a JPEG', within: 12, bytes: () => blocks().jpeg({ quality: 95 }).toBuffer() },
  { name: 'a progressive JPEG', within: 12, bytes: () => blocks().jpeg({ quality: 95, progressive: true }).toBuffer() },
  { name: 'a PNG', within: 1, bytes: () => blocks().png().toBuffer() },
  { name: 'a PNG of 16 bits', within: 1, bytes: () => blocks().toColourspace('rgb16').png().toBuffer() },
  { name: 'a PNG of 256 colours', within: 6, bytes: () => blocks().png({ palette: true }).toBuffer() },
  { name: 'a PNG with alpha', within: 1, bytes: () => blocks().ensureAlpha(1).png().toBuffer() },
  { name: 'a CMYK JPEG', within: 130, bytes: () => blocks().toColourspace('cmyk').jpeg({ quality: 95 }).toBuffer() },
  { name: 'a grey JPEG', within: 12, grey: true, bytes: () => greyBlocks().jpeg({ quality: 95 }).toBuffer() },
  {
    name: 'a grey PNG of 16 bits',
    within: 8,
    grey: true,
    bytes: () => greyBlocks().toColourspace('grey16').png().toBuffer(),
  },
  { name: 'a WebP', within: 14, bytes: () => blocks().webp({ quality: 95 }).toBuffer() },
  { name: 'an AVIF', within: 14, bytes: () => blocks().avif({ quality: 90 }).toBuffer() },
];

/** Files that are refused, and what is said. */
export const REFUSED: readonly { name: string; said: RegExp; bytes(): Promise<Uint8Array> }[] = [
  { name: 'an empty file', said: /empty \(0 bytes\)/, bytes: async () => new Uint8Array() },
  {
    name: 'text named .jpg',
    said: /not a photo/,
    bytes: async () => new TextEncoder().encode('two slabs, one cracked'),
  },
  {
    name: 'a drawing',
    said: /not a photo/,
    bytes: async () => new TextEncoder().encode('<svg xmlns="http://www.w3.org/2000/svg"/>'),
  },
  { name: 'a HEIC photo', said: /HEIC/, bytes: async () => heif('heic') },
  { name: 'a film', said: /a film, not a photo/, bytes: async () => heif('qt  ') },
  { name: 'a GIF', said: /GIF/, bytes: () => blocks().gif().toBuffer() },
  { name: 'an animated GIF', said: /GIF/, bytes: () => frames().gif().toBuffer() },
  { name: 'an animated WebP', said: /animation/, bytes: () => frames().webp().toBuffer() },
  { name: 'a panorama by its word', said: /panorama/, bytes: panorama },
  { name: 'half a JPEG', said: /cut short/, bytes: async () => (await blocks().jpeg().toBuffer()).subarray(0, 900) },
  { name: 'half a PNG', said: /cut short/, bytes: async () => (await blocks().png().toBuffer()).subarray(0, 400) },
  { name: 'half an AVIF', said: /cut short/, bytes: async () => (await blocks().avif().toBuffer()).subarray(0, 400) },
  { name: 'a JPEG of garbage', said: /cut short|damaged/, bytes: async () => spoilt(await blocks().jpeg().toBuffer()) },
  {
    name: 'a bomb of 201 million pixels',
    said: /201 million pixels; up to 100 million/,
    bytes: () => claiming(16384, 12288),
  },
  { name: 'a photo longer than a canvas', said: /million pixels; up to 100/, bytes: () => claiming(60000, 300) },
];

/** All that is packed in a JPEG overwritten, its head and its end left. */
function spoilt(bytes: Buffer): Buffer {
  const scan = bytes.indexOf(Buffer.from([0xff, 0xda])) + 14;
  return Buffer.concat([bytes.subarray(0, scan - 40).fill(0x11, 30), bytes.subarray(scan)]);
}
