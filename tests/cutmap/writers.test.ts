import DxfParser from 'dxf-parser';
import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import { cuttingMap, type Sheet, toCsv, toDxf, toPdf, toSvg } from '../../src/cutmap';
import { box, circle, path, ring, text } from '../../src/cutmap/drawing';
import { tiles } from '../../src/cutmap/tiles';
import { inventedRequest, typeface } from './invented';

const POINT = 25.4 / 72;
const about = { title: 'North wall counter', date: '2026-11-25', language: 'en' };

/** A name that tries everything: markup, a formula, quotes, a line break, an emoji, a turned reading direction, control characters. */
const WICKED = '=cmd|\' /C calc\'!A0 <script>alert(1)</script> & "quoted"\r\n0\nEOF \u202egnp.exe 🪵 \u0000 %%d';

const sheetOf = (groups: Sheet['groups'], width = 297, height = 210): Sheet => ({
  name: '01-test',
  title: WICKED,
  width,
  height,
  groups,
});

async function openPdf(bytes: Uint8Array) {
  const { getDocument } = await import('pdfjs-dist/legacy/build/pdf.mjs');
  return getDocument({ data: bytes.slice(), useSystemFonts: false, verbosity: 0 }).promise;
}

/** Boxes of all paths that a page draws, in mm: what an independent reader makes of them. */
async function pathBoxes(bytes: Uint8Array, page: number): Promise<{ width: number; height: number }[]> {
  const { OPS } = await import('pdfjs-dist/legacy/build/pdf.mjs');
  const list = await (await (await openPdf(bytes)).getPage(page)).getOperatorList();
  return list.fnArray.flatMap((op, i) => {
    if (op !== OPS.constructPath) return [];
    const [x0, y0, x1, y1] = list.argsArray[i][2] as [number, number, number, number];
    return [{ width: (x1 - x0) * POINT, height: (y1 - y0) * POINT }];
  });
}

describe('PDF', () => {
  it('has true scale: 100 mm and 4 in read 100.0 and 101.6, on A4 and A3 (ISO 216), US Letter and Tabloid (8.5 x 11, 11 x 17 in) and rolls', async () => {
    for (const [paper, size] of [
      ['A4', [297, 210]],
      ['A3', [420, 297]],
      ['Letter', [279.4, 215.9]],
      ['Tabloid', [431.8, 279.4]],
      ['Roll', [431.8, 609.6]],
      ['Roll36', [431.8, 914.4]],
    ] as const) {
      const request = await inventedRequest(2, paper);
      const sheets = cuttingMap(request).sheets.filter(({ name }) => name.includes('templates'));
      const bytes = await toPdf(sheets, request.typeface, about);
      const pdf = await openPdf(bytes);
      expect(pdf.numPages).toBe(sheets.length);
      const [, , width, height] = (await pdf.getPage(1)).view as [number, number, number, number];
      expect(width * POINT).toBeCloseTo(size[0], 3);
      expect(height * POINT).toBeCloseTo(size[1], 3);
      const boxes = (await Promise.all(sheets.map((_, i) => pathBoxes(bytes, i + 1)))).flat();
      const lines = boxes.filter(({ height: h }) => h < 1e-6).map(({ width: w }) => w);
      expect(lines.some((w) => Math.abs(w - 100) < 0.01)).toBe(true);
      expect(lines.some((w) => Math.abs(w - 101.6) < 0.01)).toBe(true);
      // The same two lines in the same sheet as SVG: a step of the path in the view box's unit, which is the mm.
      const svg = toSvg(sheets[0]!, request.typeface);
      expect(svg).toContain(`width="${size[0]}mm" height="${size[1]}mm" viewBox="0 0 ${size[0]} ${size[1]}"`);
      const steps = [...svg.matchAll(/d="M([\d.]+) ([\d.]+)L([\d.]+) ([\d.]+)"/g)].map(([, x, y, p, q]) =>
        Math.hypot(Number(p) - Number(x), Number(q) - Number(y)),
      );
      for (const wanted of [100, 101.6]) expect(steps.some((step) => Math.abs(step - wanted) < 0.002)).toBe(true);
      // The paper key 70 x 39.1 with a waist of 21, and its opening for 30 over 10: 10 more on every side, square to it.
      const flare = (39.1 - 21) / 70;
      const end = 21 + 20 * Math.hypot(1, flare) + 90 * flare;
      for (const [w, h] of [
        [70, 39.1],
        [90, end],
      ] as const)
        expect(boxes.some((box) => Math.abs(box.width - w) < 0.01 && Math.abs(box.height - h) < 0.01)).toBe(true);
    }
  });

  it('says its title, language and layers, embeds its fonts, and its words can be found', async () => {
    const request = await inventedRequest(2, 'A4', 'in');
    const { sheets } = cuttingMap(request);
    const pdf = await openPdf(await toPdf(sheets, request.typeface, about));
    const { info } = await pdf.getMetadata();
    expect(info).toMatchObject({ Title: 'North wall counter', Language: 'en', CreationDate: 'D:20261125000000Z' });
    const names = [...((await pdf.getOptionalContentConfig()) as unknown as Iterable<[string, { name: string }]>)].map(
      ([, group]) => group.name,
    );
    expect(names).toEqual(
      expect.arrayContaining(['OUTLINE', 'DATUM', 'ROUGH', 'FINISHED', 'JOINT', 'POCKET', 'TEMPLATE', 'SHEET']),
    );
    // Tagged: a section a sheet with its figures and words, and nothing on a page that is not in the tree.
    expect(await pdf.getMarkInfo()).toMatchObject({ Marked: true });
    const tree = await (await pdf.getPage(1)).getStructTree();
    type Node = { role?: string; alt?: string; children?: Node[]; type?: string };
    const flat = (node: Node): Node[] => [node, ...(node.children ?? []).flatMap(flat)];
    const nodes = flat(tree as Node);
    for (const role of ['Document', 'Sect', 'H2', 'P', 'Figure'])
      expect(nodes.map((node) => node.role)).toContain(role);
    for (const node of nodes) if (node.role === 'Figure') expect(node.alt).toMatch(/./);
    const { fnArray } = await (await pdf.getPage(1)).getOperatorList();
    const { OPS } = await import('pdfjs-dist/legacy/build/pdf.mjs');
    const count = (...ops: number[]) => fnArray.filter((op) => ops.includes(op)).length;
    expect(count(OPS.beginMarkedContent, OPS.beginMarkedContentProps)).toBe(count(OPS.endMarkedContent));
    const hand = sheets.findIndex(({ name }) => name.includes('marking'));
    const { items } = await (await pdf.getPage(hand + 1)).getTextContent();
    const words = items.map((item) => ('str' in item ? item.str : '')).join('|');
    for (const needed of ['Slab 1, upper face up', 'Cautions', 'A to B', 'North wall counter', '⁄', '"'])
      expect(words).toContain(needed);
  });

  it('prints wicked names, with a sign for what the font lacks', async () => {
    const request = await inventedRequest(2, 'A4', 'mm', WICKED);
    const pdf = await openPdf(
      await toPdf(cuttingMap(request).sheets.slice(0, 1), request.typeface, { ...about, title: WICKED }),
    );
    const { items } = await (await pdf.getPage(1)).getTextContent();
    expect(items.some((item) => 'str' in item && item.str.startsWith("=cmd|' /C calc'"))).toBe(true);
  });

  it('is the same to the byte for the same sheets', async () => {
    const request = await inventedRequest(3);
    const write = async () => toPdf(cuttingMap(request).sheets, request.typeface, about);
    expect(Buffer.from(await write()).equals(Buffer.from(await write()))).toBe(true);
  });

  it('lays a photo where it belongs: its corners at the four corners of its place', async () => {
    const png = await sharp({ create: { width: 40, height: 20, channels: 3, background: '#884422' } })
      .png()
      .toBuffer();
    const image = { type: 'png' as const, bytes: new Uint8Array(png), width: 40, height: 20 };
    const photo = { is: 'image' as const, image, place: { m: [2.5, 0, 0, 2.5, 30, 50] as const }, opacity: 0.5 };
    const bytes = await toPdf(
      [sheetOf([{ layer: 'PHOTO', name: 'photo', elements: [photo] }])],
      await typeface(),
      about,
    );
    const { OPS } = await import('pdfjs-dist/legacy/build/pdf.mjs');
    const list = await (await (await openPdf(bytes)).getPage(1)).getOperatorList();
    const at = list.fnArray.indexOf(OPS.transform);
    const matrix = (list.argsArray[at] as number[]).map((value) => value * POINT);
    // 100 x 50 mm, its lower left corner at x 30 and 100 mm under the page's top.
    [100, 0, 0, 50, 30, 110].forEach((value, i) => {
      expect(matrix[i]).toBeCloseTo(value, 3);
    });
  });
});

describe('SVG', () => {
  it('measures 100 mm where 100 mm are drawn, by another renderer', async () => {
    const line = path(
      [
        [20, 30],
        [120, 30],
      ],
      'joint',
    );
    const svg = toSvg(sheetOf([{ layer: 'SHEET', name: 'line', elements: [line] }]), await typeface());
    const { data, info } = await sharp(Buffer.from(svg), { density: 100 })
      .flatten({ background: '#fff' })
      .greyscale()
      .raw()
      .toBuffer({ resolveWithObject: true });
    expect(info.width / info.height).toBeCloseTo(297 / 210, 2);
    const perMm = info.width / 297;
    const row = Math.round(30 * perMm) * info.width;
    const dark = Array.from({ length: info.width }, (_, x) => data[row + x]! < 128);
    const length = (dark.lastIndexOf(true) - dark.indexOf(true) + 1) / perMm;
    expect(Math.abs(length - 100)).toBeLessThan(0.5);
  });

  it('shows wicked names as text: no element of theirs, no control character', async () => {
    const request = await inventedRequest(4, 'A4', 'mm', WICKED);
    for (const sheet of cuttingMap(request).sheets) {
      const svg = toSvg(sheet, request.typeface);
      expect(svg).not.toMatch(/<script/i);
      // biome-ignore lint/suspicious/noControlCharactersInRegex: that none is there is the point
      expect(svg).not.toMatch(/[\u0000-\u0008\u202e]/);
      const { width } = await sharp(Buffer.from(svg)).metadata();
      expect(width).toBeGreaterThan(0);
    }
  });

  it('names its layers', async () => {
    const request = await inventedRequest(1);
    const drawing = cuttingMap(request).sheets.find(({ name }) => name.includes('drawing'))!;
    const svg = toSvg(drawing, request.typeface);
    expect(svg).toMatch(/width="297mm" height="210mm" viewBox="0 0 297 210"/);
    for (const layer of ['OUTLINE', 'ROUGH', 'JOINT', 'DATUM']) expect(svg).toContain(`data-layer="${layer}"`);
  });
});

describe('DXF', () => {
  it('holds the slab at true size in mm: closed polylines on named layers', async () => {
    const request = await inventedRequest(1);
    const slab = request.report.slabs[0]!;
    const read = new DxfParser().parseSync(await toDxf(cuttingMap(request).drawings[0]!))!;
    expect(read.header.$INSUNITS).toBe(4);
    expect(String(read.header.$ACADVER) >= 'AC1015').toBe(true);
    const names = Object.keys(read.tables.layer.layers);
    expect(names).toEqual(
      expect.arrayContaining(['OUTLINE', 'DATUM', 'ROUGH', 'FINISHED', 'JOINT', 'POCKET', 'TEMPLATE', 'DEFECT']),
    );
    type Polyline = { type: string; layer: string; shape?: boolean; vertices: { x: number; y: number }[] };
    const entities = read.entities as unknown as Polyline[];
    const outline = entities.find(({ layer, type }) => layer === 'OUTLINE' && type === 'LWPOLYLINE')!;
    expect(outline.shape).toBe(true);
    expect(outline.vertices).toHaveLength(slab.outline.outer.length);
    const area = Math.abs(
      outline.vertices.reduce(
        (sum, p, i, all) => sum + p.x * all[(i + 1) % all.length]!.y - all[(i + 1) % all.length]!.x * p.y,
        0,
      ) / 2,
    );
    expect(area / slab.areas.stock).toBeCloseTo(1, 6);
    const joint = entities.find(({ layer }) => layer === 'JOINT')!;
    const [p, q] = joint.vertices as [{ x: number; y: number }, { x: number; y: number }];
    const [a, b] = slab.blanks[0]!.jointBack!;
    expect(Math.hypot(p.x - q.x, p.y - q.y)).toBeCloseTo(Math.hypot(a[0] - b[0], a[1] - b[1]), 6);
  });

  it('holds the router templates at true size, one closed opening a key size', async () => {
    const { drawings } = cuttingMap(await inventedRequest(1));
    expect(drawings.map(({ name }) => name).slice(0, 3)).toEqual(['slab-1-top', 'slab-2-top', 'counter-templates']);
    const read = new DxfParser().parseSync(await toDxf(drawings[2]!))!;
    type Polyline = { layer: string; shape?: boolean; vertices: { x: number; y: number }[] };
    const openings = (read.entities as unknown as Polyline[]).filter(
      ({ layer, shape }) => layer === 'TEMPLATE' && shape,
    );
    expect(openings).toHaveLength(2);
    // Keys of 70 and 90 with a 30 mm bushing over a 10 mm bit: 20 longer.
    const lengths = openings.map(({ vertices }) => {
      const xs = vertices.map(({ x }) => x);
      return Math.max(...xs) - Math.min(...xs);
    });
    expect(lengths[0]).toBeCloseTo(90, 6);
    expect(lengths[1]).toBeCloseTo(110, 6);
  });

  it('keeps arcs as arcs, the way they turn, and text on one line', async () => {
    const arc = {
      is: 'arc' as const,
      centre: [50, 40] as const,
      radius: 20,
      from: 0,
      to: 90,
      line: 'template' as const,
    };
    const groups: Sheet['groups'] = [
      { layer: 'TEMPLATE', name: 'arcs', elements: [arc, circle([10, 10], 5, 'template'), text([0, 0], WICKED)] },
      { layer: 'DEFECT', name: 'box', elements: [box(0, 0, 10, 10, 'defect')] },
    ];
    const dxf = await toDxf(sheetOf(groups, 100, 100));
    type Entity = {
      type: string;
      text?: string;
      startAngle?: number;
      endAngle?: number;
      center?: { x: number; y: number };
    };
    const entities = new DxfParser().parseSync(dxf)!.entities as unknown as Entity[];
    expect(entities.map(({ type }) => type)).toEqual(['ARC', 'CIRCLE', 'TEXT', 'LWPOLYLINE']);
    // On paper (y down) it runs from +x to +y; with y up that is from -90 to 0 degrees.
    const degrees = (radians: number): number => ((radians * 180) / Math.PI + 720) % 360;
    expect(degrees(entities[0]!.startAngle!)).toBeCloseTo(270, 6);
    expect(degrees(entities[0]!.endAngle!) % 360).toBeCloseTo(0, 6);
    expect(entities[0]!.center).toMatchObject({ x: 50, y: 60 });
    expect(dxf.split(/\r?\n/).filter((line) => line.trim() === 'EOF')).toHaveLength(1);
    expect(entities[2]!.text).not.toContain('%%');
  });

  it('is the same to the byte for the same drawing', async () => {
    const request = await inventedRequest(3);
    expect(await toDxf(cuttingMap(request).drawings[0]!)).toBe(await toDxf(cuttingMap(request).drawings[0]!));
  });
});

/** RFC 4180, section 2, to the letter: CRLF between records, quotes doubled inside quotes, equally many fields. */
function readCsv(input: string): string[][] {
  const records: string[][] = [];
  let [i, record] = [0, [] as string[]];
  while (i < input.length) {
    let field = '';
    if (input[i] === '"') {
      for (i++; ; i++) {
        if (i >= input.length) throw new Error('open quote');
        if (input[i] !== '"') field += input[i];
        else if (input[i + 1] === '"') field += input[i++];
        else break;
      }
      i++;
    } else {
      for (; i < input.length && input[i] !== ',' && input[i] !== '\r'; i++) {
        if (input[i] === '"' || input[i] === '\n') throw new Error('stray quote or line feed');
        field += input[i];
      }
    }
    record.push(field);
    if (input[i] === ',') i++;
    else if (input.startsWith('\r\n', i)) {
      records.push(record);
      [i, record] = [i + 2, []];
    } else throw new Error('neither comma nor CRLF');
  }
  return records;
}

describe('CSV', () => {
  it('is RFC 4180 with units in the headers, numbers as numbers', async () => {
    const { tables } = cuttingMap(await inventedRequest(1));
    expect(tables.map(({ name }) => name).slice(0, 4)).toEqual([
      'budget',
      'costs',
      'slab-1-top-measures',
      'slab-2-top-measures',
    ]);
    const [header, ...rows] = readCsv(toCsv(tables[0]!));
    expect(header).toEqual(['slab', 'blank', 'item', 'thickness (mm)']);
    // The budget adds up: rough is the sum of all the others.
    const mm = rows.slice(0, 8).map((row) => Number(row[3]));
    expect(mm.slice(1).reduce((sum, value) => sum + value, 0)).toBeCloseTo(mm[0]!, 9);
    for (const row of rows) expect(row).toHaveLength(4);
  });

  it('shows what a spreadsheet would run as text, and keeps commas, quotes and line breaks inside their field', () => {
    const rows = [
      [WICKED, -5.25],
      ['+1', null],
      ['@sum', 0],
      ['-x', 1e-9],
      ['a, "b"\nc', 2],
    ];
    const read = readCsv(toCsv({ name: 't', columns: [{ title: 'name' }, { title: 'length', unit: 'mm' }], rows }));
    expect(read[0]).toEqual(['name', 'length (mm)']);
    for (const row of read.slice(1)) expect(row[0]).not.toMatch(/^[=+\-@\t\r]/);
    expect(read.map((row) => row[1])).toEqual(['length (mm)', '-5.25', '', '0', '0', '2']);
    expect(read[5]![0]).toBe('a, "b" c');
  });
});

describe('tiles', () => {
  it('cover the whole drawing, show the same register mark on both neighbours, and measure themselves', async () => {
    const request = await inventedRequest(1);
    const template = ring(
      [
        [0, 0],
        [600, 0],
        [600, 300],
        [0, 300],
      ],
      'template',
    );
    const groups: Sheet['groups'] = [{ layer: 'TEMPLATE', name: 'big', elements: [template] }];
    const drafts = tiles(request, { width: 600, height: 300, groups }, { name: 't', title: 'T', subject: 's' }, [
      'router template',
    ]);
    expect(drafts.length).toBeGreaterThan(3);
    // In every tile the drawing is shifted only; where its shift puts the drawing's origin tells which part the tile shows.
    const shown = drafts.map((draft) => {
      const group = draft.groups.find(({ layer }) => layer === 'TEMPLATE')!;
      const origin = (group.elements[0] as typeof template).points[0]!;
      const clip = group.clip!;
      const marks = draft.groups
        .flatMap((g) => (g.name === 'tile' ? g.elements : []))
        .flatMap((e) => (e.is === 'arc' ? [[e.centre[0] - origin[0], e.centre[1] - origin[1]] as const] : []));
      return {
        from: [clip[0]![0] - origin[0], clip[0]![1] - origin[1]] as const,
        to: [clip[2]![0] - origin[0], clip[2]![1] - origin[1]] as const,
        marks,
      };
    });
    for (let x = 0.5; x < 600; x += 7) {
      for (let y = 0.5; y < 300; y += 7) {
        expect(shown.some(({ from, to }) => x >= from[0] && x <= to[0] && y >= from[1] && y <= to[1])).toBe(true);
      }
    }
    for (const { marks } of shown) {
      expect(marks.length).toBeGreaterThan(0);
      for (const [x, y] of marks) {
        const sharing = shown.filter((other) => other.marks.some(([p, q]) => Math.hypot(p - x, q - y) < 1e-6));
        expect(sharing.length).toBeGreaterThanOrEqual(2);
      }
    }
  });
});
