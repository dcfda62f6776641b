import { isolated } from './bidi';
import { onArc } from './curves';
import type { Arc, Element, EncodedImage, Image, Path, Sheet, Text } from './drawing';
import { INKS, type Ink, PENS } from './pen';
import { oneLine, runs, type Typeface } from './text';

/**
 * A sheet as SVG in millimetres, one named group a layer: what the screen shows and what a drawing program opens. Text is
 * escaped, so a name that tries to be markup stays a name. Each line of text carries its measured length, so that another
 * typeface on the screen changes no layout.
 */
export function toSvg(sheet: Sheet, typeface: Typeface): string {
  const defs: string[] = [];
  const body = sheet.groups.map((group, i) => {
    let clip = '';
    if (group.clip) {
      defs.push(`<clipPath id="clip-${i}"><path d="${outline(group.clip, true)}"/></clipPath>`);
      clip = ` clip-path="url(#clip-${i})"`;
    }
    const inside = group.elements.map((element) => draw(element, typeface)).join('');
    return `<g id="g${i}-${group.layer.toLowerCase()}" data-layer="${group.layer}" data-name="${escaped(group.name)}"${clip}>${inside}</g>`;
  });
  const size = `width="${n(sheet.width)}mm" height="${n(sheet.height)}mm" viewBox="0 0 ${n(sheet.width)} ${n(sheet.height)}"`;
  const family = `${typeface.family}, DejaVu Sans, sans-serif`;
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" ${size} font-family="${escaped(family)}" role="img">`,
    `<title>${escaped(sheet.title)}</title>`,
    defs.length > 0 ? `<defs>${defs.join('')}</defs>` : '',
    ...body,
    '</svg>\n',
  ].join('');
}

function draw(element: Element, typeface: Typeface): string {
  switch (element.is) {
    case 'path':
      return `<path d="${outline(element.points, element.closed)}"${style(element)}/>`;
    case 'arc':
      return arc(element);
    case 'text':
      return words(element, typeface);
    case 'image':
      return photo(element);
  }
}

const outline = (points: Path['points'], closed: boolean): string =>
  points.map(([x, y], i) => `${i === 0 ? 'M' : 'L'}${n(x)} ${n(y)}`).join('') + (closed ? 'Z' : '');

function arc(element: Arc): string {
  const { centre, radius, from, to } = element;
  if (Math.abs(to - from) >= 360) {
    return `<circle cx="${n(centre[0])}" cy="${n(centre[1])}" r="${n(radius)}"${style(element)}/>`;
  }
  const [start, end] = [onArc(element, from), onArc(element, to)];
  const large = Math.abs(to - from) > 180 ? 1 : 0;
  const sweep = to > from ? 1 : 0;
  const d = `M${n(start[0])} ${n(start[1])}A${n(radius)} ${n(radius)} 0 ${large} ${sweep} ${n(end[0])} ${n(end[1])}`;
  return `<path d="${d}"${style(element)}/>`;
}

function style({ line, fill }: Path | Arc): string {
  const filled = ` fill="${fill ? colour(fill) : 'none'}"`;
  if (!line) return filled;
  const pen = PENS[line];
  const dash = pen.dash.length > 0 ? ` stroke-dasharray="${pen.dash.join(' ')}"` : '';
  return `${filled} stroke="${colour(pen.ink)}" stroke-width="${pen.width}" stroke-linejoin="round"${dash}`;
}

function words(element: Text, typeface: Typeface): string {
  const [x, y] = element.at;
  const size = element.size / typeface.capital;
  const width = typeface.measure(element.text, element.size, element.bold);
  let rise = 0;
  const spans = runs(oneLine(element.text)).map((run) => {
    const shown = isolated(escaped(run.text));
    if (run.scale === 1 && run.rise === rise) return shown;
    const dy = (rise - run.rise) * element.size;
    rise = run.rise;
    return `<tspan dy="${n(dy)}" font-size="${n(run.scale * size)}">${shown}</tspan>`;
  });
  const turned = element.turn ? ` transform="rotate(${n(element.turn)} ${n(x)} ${n(y)})"` : '';
  const weight = element.bold ? ' font-weight="bold"' : '';
  const length = width > 0 ? ` textLength="${n(width)}" lengthAdjust="spacingAndGlyphs"` : '';
  return (
    `<text x="${n(x)}" y="${n(y)}" font-size="${n(size)}" text-anchor="${element.anchor}" fill="${colour(element.ink)}"` +
    ` xml:space="preserve"${weight}${length}${turned}>${spans.join('')}</text>`
  );
}

function photo({ image, place, opacity }: Image): string {
  const matrix = place.m.map((value) => Number(value.toPrecision(9))).join(' ');
  return (
    `<image width="${image.width}" height="${image.height}" preserveAspectRatio="none" opacity="${n(opacity)}"` +
    ` transform="matrix(${matrix})" href="data:image/${image.type};base64,${base64(image)}"/>`
  );
}

/** Encoded once an image, since a sheet set shows the same photo on several sheets and long strings cost time. */
const encoded = new WeakMap<EncodedImage, string>();
function base64(image: EncodedImage): string {
  const known = encoded.get(image);
  if (known !== undefined) return known;
  let binary = '';
  for (let i = 0; i < image.bytes.length; i += 0x8000) {
    binary += String.fromCharCode(...image.bytes.subarray(i, i + 0x8000));
  }
  const coded = btoa(binary);
  encoded.set(image, coded);
  return coded;
}

/** Text as XML content or attribute value: markup characters escaped, those that XML 1.0 forbids taken out. */
function escaped(value: string): string {
  return oneLine(value)
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;')
    .replaceAll('"', '&quot;')
    .replaceAll("'", '&#39;')
    .replace(/[\ufffe\uffff]/g, '');
}

const colour = (ink: Ink): string =>
  `#${INKS[ink]
    .map((value) =>
      Math.round(value * 255)
        .toString(16)
        .padStart(2, '0'),
    )
    .join('')}`;

/** A number to 0.001 mm, without a needless tail. */
const n = (value: number): string => String(Math.round(value * 1000) / 1000 || 0);
