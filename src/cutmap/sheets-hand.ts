import type { Bounds } from '../geometry';
import { faceKey } from '../job';
import type { SlabReport } from '../plan';
import { cautionsFor } from '../wood';
import { type Block, heightOf, moved, paragraph } from './blocks';
import { box, circle, type Element, LEAST_TEXT, text } from './drawing';
import { slabStem } from './file-names';
import { type Measured, nameOf, type SlabMeasures, troublesOf } from './measures';
import { cautionBlock, contentArea, type Draft, sheetGroup } from './page';
import { type Lengths, lengthsOf, type SheetRequest } from './request';
import { drawSlab } from './slab-view';
import { shorten } from './text';
import { viewOf } from './view';

/** Four points make eight tapes; with the length of the chalk line that is nine big numbers, and ten is the most for a dusty hand. */
const POINTS_A_PAGE = 4;
const BIG = 8;

/** The page for the hand: one a slab, more only where its rough cuts need more than four points. After it its joint lines, while the marks are there. */
export function handSheets(request: SheetRequest, slab: SlabReport, measures: SlabMeasures | null): Draft[] {
  const of = (kind: Measured['kind']) => inPages(measures?.points.filter((point) => point.kind === kind) ?? []);
  const [cuts, joints] = [of('cut'), of('joint')];
  const titled = (name: string, pages: readonly (readonly Measured[])[]): Draft[] =>
    pages.map((points, i) =>
      handPage(request, slab, measures, points, name, pages.length > 1 ? ` ${i + 1}/${pages.length}` : ''),
    );
  return [...titled('Marking out', cuts.length > 0 ? cuts : [[]]), ...titled('Joint lines', joints)];
}

const inPages = (points: readonly Measured[]): (readonly Measured[])[] =>
  Array.from({ length: Math.ceil(points.length / POINTS_A_PAGE) }, (_, i) =>
    points.slice(i * POINTS_A_PAGE, (i + 1) * POINTS_A_PAGE),
  );

function handPage(
  request: SheetRequest,
  slab: SlabReport,
  measures: SlabMeasures | null,
  points: readonly Measured[],
  name: string,
  part: string,
): Draft {
  const { typeface, report, paper } = request;
  const lengths = lengthsOf(report);
  const area = contentArea(paper);
  const width = area.maxX - area.minX;
  const top = header(slab, measures, points, width, lengths, request);
  const cards = measures ? cardRow(points, width, lengths, request) : { elements: [], height: 0 };
  const checks = measures ? [checkLine(measures, points, width, lengths, request)] : [];
  const cautions = cautionBlock(cautionsFor('crosscut', 'rip'), width, typeface);
  const kept = top.height + LEAST_PICTURE + cards.height + cautions.height + 4;
  const facts = asFarAs([...checks, ...cutLines(slab, width, lengths, request)], area.maxY - area.minY - kept);
  const below = cards.height + heightOf(facts) + cautions.height + 4;
  const picture: Bounds = { ...area, minY: area.minY + top.height, maxY: area.maxY - below };
  const inner = { minX: picture.minX + 18, maxX: picture.maxX - 18, minY: picture.minY + 6, maxY: picture.maxY - 6 };
  // A small picture, not a drawing: as large as fits, at no scale.
  const view = viewOf(slab.outline.outer, inner, { any: true });
  const drawing = drawSlab(
    slab,
    measures && { ...measures, points },
    request.faces.get(faceKey(slab.flitch, slab.slab, slab.face)),
    view,
    picture,
    'hand',
    lengths,
    typeface,
  );
  const elements: Element[] = place(top, area.minX, area.minY);
  let y = picture.maxY;
  for (const block of [cards, ...facts]) {
    elements.push(...place(block, area.minX, y));
    y += block.height;
  }
  elements.push(...place(cautions, area.minX, area.maxY - cautions.height));
  return {
    name: `${slabStem(report, slab)}-${name === 'Marking out' ? 'marking' : 'joint'}${part.replace(/[^0-9]+/g, '-')}`.replace(
      /-$/,
      '',
    ),
    title: `${name}${part}`,
    subject: slab.name,
    up: slab,
    scale: null,
    groups: [...drawing.groups, sheetGroup('numbers', elements)],
  };
}

/** A slab with the face that is up. */
export const subjectOf = (slab: SlabReport): string =>
  `${slab.name}, ${slab.face === 'top' ? 'upper' : 'under'} face up`;

const place = (block: Block, x: number, y: number): Element[] => block.elements.map((element) => moved(element, x, y));

/** The slab's name at arm's length, and the length of the chalk line. */
function header(
  slab: SlabReport,
  measures: SlabMeasures | null,
  points: readonly Measured[],
  width: number,
  lengths: Lengths,
  { typeface }: SheetRequest,
): Block {
  const elements: Element[] = [];
  let right = 0;
  if (measures) {
    const line = measures.checks[0];
    const words = line ? lengths.first(line.mm) : '';
    const numberWidth = typeface.measure(words, BIG, true);
    const lead = ['A to B', ...(line && lengths.second(line.mm) ? [`[${lengths.second(line.mm)}]`] : [])].join(' ');
    right = numberWidth + typeface.measure(lead, 4, true) + 6;
    elements.push(text([width, BIG + 1.5], words, { size: BIG, bold: true, anchor: 'end', ink: 'chalk' }));
    elements.push(text([width - numberWidth - 3, BIG + 1.5], lead, { size: 4, bold: true, anchor: 'end' }));
  }
  const name = shorten(typeface.printable(subjectOf(slab)), width - right - 4, 6, true, typeface);
  elements.unshift(text([0, BIG], name, { size: 6, bold: true }));
  const how = paragraph(howToFind(slab, measures, points, lengths), width, typeface, { size: 3.5 });
  const bad = measures ? troublesOf(slab, measures, lengths.size).filter((trouble) => trouble.bad) : [];
  const mind = bad.map(({ words }) => paragraph(words, width, typeface, { size: 3.5, bold: true, bullet: '!' }));
  let height = BIG + 4;
  for (const block of [how, ...mind]) {
    elements.push(...place(block, 0, height));
    height += block.height;
  }
  return { elements, height };
}

/** How the marks are found on the slab. */
function howToFind(
  slab: SlabReport,
  measures: SlabMeasures | null,
  points: readonly Measured[],
  lengths: Lengths,
): string {
  if (!measures) return 'This slab has no place for two marks in sound wood. Set two marks by hand in the cutting map.';
  const one = (name: 'A' | 'B'): string => {
    const { across, alongside } = measures.marks[name];
    const parts = [across, alongside].flatMap((check) =>
      check ? [`${lengths.size(check.mm)} from the ${check.edge}`] : [],
    );
    return `${name}: ${parts.join(', ')}`;
  };
  const where = {
    set: '',
    beside: ' Both lie in waste and stay until the rip.',
    ends: ' No waste lies beside the strips: the marks go with the crosscuts, so mark every line first.',
    within: ' No waste has room for them: they lie in the blanks, where planing or trimming must take them.',
  }[measures.place];
  const drill = slab.drilled ? 'The marks are drilled.' : `Drill both marks through, ${lengths.drill}.`;
  const joint = points.some(({ kind }) => kind === 'joint')
    ? ' Mark the joint lines before the rip takes the marks; on the flat faces they are found again.'
    : '';
  return `${drill} ${one('A')}. ${one('B')}.${joint || where}`;
}

const CARD_HEIGHT = 44;
/** Readable at arm's length: a capital of 3.2 mm (practice). */
const NOTE = 3.2;

/** One card a point: its two tapes, big; under them the checks from the wood's edge. */
function cardRow(points: readonly Measured[], width: number, lengths: Lengths, { typeface }: SheetRequest): Block {
  const gap = 3;
  const cardWidth = (width - gap * (POINTS_A_PAGE - 1)) / POINTS_A_PAGE;
  // Beside the same length in other units it is as large as there is room for.
  const bigIn = (words: string, other: string | null): number => {
    const room = cardWidth - 12 - (other ? typeface.measure(other, LEAST_TEXT, false) : 0);
    return Math.min(BIG, room / typeface.measure(words, 1, true));
  };
  const elements = points.flatMap((point, i): Element[] => {
    const x = i * (cardWidth + gap);
    const right = x + cardWidth - 2.5;
    const tape = (mm: number, y: number, from: string): Element[] => [
      text([x + 2.5, y], from, { size: 5, bold: true }),
      text([right, y], lengths.first(mm), {
        size: bigIn(lengths.first(mm), lengths.second(mm)),
        bold: true,
        anchor: 'end',
        ink: 'chalk',
      }),
      ...[lengths.second(mm)].flatMap((other) => (other ? [text([x + 8, y], other, { ink: 'chalk' })] : [])),
    ];
    const fits = (note: string): boolean => typeface.measure(note, NOTE, false) <= cardWidth - 5;
    const checks = [point.across, point.alongside].flatMap((check) => {
      if (!check) return [];
      const sure = lengths.plusMinus(check.plusMinus);
      const said = `${check.edge} ${lengths.size(check.mm)} ${sure}`;
      return [fits(said) ? said : `${check.edge} ${lengths.firstSize(check.mm)} ${sure}`];
    });
    // Where the tapes cross too flat, the chalk line and a square find the point: that takes the place of the farther check.
    const { along, inward } = point.offsets;
    const [far, aside] = [lengths.first(along), sideways(inward, { at: lengths.first })];
    const square = [`flat: ${far} along, ${aside} in`, `flat: ${far}, ${aside}`].find(fits) ?? `${far}, ${aside}`;
    const words = lengths.plusMinus(Math.max(point.plusMinus.fromA, point.plusMinus.fromB));
    const sure = { words, width: typeface.measure(words, NOTE, false) };
    const notes = point.flat ? [...checks.slice(0, 1), square] : checks;
    return [
      box(x, 0, cardWidth, CARD_HEIGHT, 'frame', 'paper'),
      circle([x + 5.6, 5], 3.6, 'frame'),
      text([x + 5.6, 6.75], point.label, { size: 3.5, bold: true, anchor: 'middle' }),
      text(
        [x + 11, 6.75],
        shorten(point.what.replace('joint of ', ''), cardWidth - 14 - sure.width, 3.5, true, typeface),
        {
          size: 3.5,
          bold: true,
        },
      ),
      text([right, 6.75], sure.words, { size: NOTE, anchor: 'end' }),
      ...tape(point.tapes.fromA, 19.2, 'A'),
      ...tape(point.tapes.fromB, 30.4, 'B'),
      ...notes.map((note, k) =>
        text([x + 2.5, 36.5 + k * 4.9], shorten(note, cardWidth - 5, NOTE, false, typeface), { size: NOTE }),
      ),
    ];
  });
  return { elements, height: CARD_HEIGHT + 2.5 };
}

/** What is taped when all is marked, and what it should read: the lengths between points that are on this page or were on one before. */
function checkLine(
  measures: SlabMeasures,
  points: readonly Measured[],
  width: number,
  lengths: Lengths,
  { typeface }: SheetRequest,
): Block {
  const last = Math.max(...points.map((point) => measures.points.indexOf(point)));
  const place = (label: string): number => measures.points.findIndex((point) => point.label === label);
  const here = (label: string): boolean => points.some((point) => point.label === label);
  const said = measures.checks
    .slice(1)
    .filter(({ from, to }) => (here(from) || here(to)) && Math.max(place(from), place(to)) <= last)
    .map(({ from, to, mm, plusMinus }) => `${from} to ${to}: ${lengths.at(mm)} ${lengths.plusMinus(plusMinus)}`);
  if (said.length === 0) return { elements: [], height: 0 };
  return paragraph(`Then tape ${said.join('; ')}`, width, typeface, { size: 4, bold: true });
}

/** How far a point lies square to the chalk line, and on which side as one looks from A to B. */
export const sideways = (inward: number, lengths: Pick<Lengths, 'at'>): string =>
  `${inward >= 0 ? '→' : '←'} ${lengths.at(Math.abs(inward))}`;

/** The picture is never lower than this, mm. */
const LEAST_PICTURE = 24;

/** The first blocks, as many as there is room for: what is left out stands on the slab's drawing as well. */
function asFarAs(blocks: readonly Block[], room: number): Block[] {
  let left = room;
  const end = blocks.findIndex(({ height }) => {
    left -= height;
    return left < 0;
  });
  return blocks.slice(0, end < 0 ? blocks.length : end);
}

/** What each blank measures, and the cuts in their order, side by side. */
function cutLines(slab: SlabReport, width: number, lengths: Lengths, { typeface }: SheetRequest): Block[] {
  const blanks = slab.blanks.map((blank) => {
    const size = ([length, wide]: readonly [number, number]): string =>
      `${lengths.size(length)} × ${lengths.size(wide)}`;
    const words = `${nameOf(blank)}: rough ${size(blank.roughSize)}, finished ${size(blank.finishedSize)}, ${lengths.size(blank.wanted)} thick`;
    return paragraph(words, width, typeface, { size: 3.5, bold: true });
  });
  const rough = slab.cuts.filter((cut) => cut.stage === 'rough');
  const abreast = 3;
  const cell = width / abreast;
  const rows = Array.from({ length: Math.ceil(rough.length / abreast) }, (_, row): Block => {
    const blocks = rough
      .slice(row * abreast, (row + 1) * abreast)
      .map((cut) => paragraph(`cut ${cut.number}: ${cut.kind}, ${cut.reason}`, cell - 4, typeface, { size: 3 }));
    return {
      elements: blocks.flatMap((block, i) => place(block, i * cell, 0)),
      height: Math.max(...blocks.map((block) => block.height)),
    };
  });
  return [...blanks, ...rows];
}
