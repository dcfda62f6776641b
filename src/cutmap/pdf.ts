import type { PDFDocument, PDFFont, PDFImage, PDFOperator, PDFPage, PDFRef } from 'pdf-lib';
import type { Point } from '../geometry';
import { arcBeziers } from './curves';
import type { About, Arc, Element, EncodedImage, Group, Image, Layer, Path, Sheet, Text } from './drawing';
import { PageTags, roleOf, writeTags } from './pdf-tags';
import { INKS, type Ink, PENS } from './pen';
import { laidRuns, type Typeface } from './text';

const POINTS_PER_MM = 72 / 25.4;

/**
 * Sheets as one PDF: true scale, one page a sheet, layers that a reader can switch, tagged for one who has it read
 * aloud, the typeface embedded as far as it is used.
 * No clock is read and nothing is random: the same sheets give the same bytes. The writer's libraries load when it is called.
 *
 * @param sheets pages in order, lengths in mm
 * @param typeface both weights, embedded
 * @param about title, date (the job's) and language
 * @param before told before each page, counted from 0: to show progress, or to give up by throwing
 * @throws Error when an image's bytes are not what its type says
 */
export async function toPdf(
  sheets: readonly Sheet[],
  typeface: Typeface,
  about: About,
  before: (page: number) => Promise<void> = async () => {},
): Promise<Uint8Array> {
  const [lib, { default: fontkit }] = await Promise.all([import('pdf-lib'), import('@pdf-lib/fontkit')]);
  const document = await lib.PDFDocument.create({ updateMetadata: false });
  document.registerFontkit(fontkit);
  const features = { liga: false };
  const regular = await document.embedFont(typeface.regular, { subset: true, features });
  const bold = await document.embedFont(typeface.bold, { subset: true, features });
  const images = await embedImages(document, sheets);
  const layers = registerLayers(lib, document, sheets);
  const tagged: { page: PDFPage; title: string; tags: PageTags }[] = [];
  for (const [i, sheet] of sheets.entries()) {
    await before(i);
    const page = document.addPage([sheet.width * POINTS_PER_MM, sheet.height * POINTS_PER_MM]);
    const tags = new PageTags();
    new PageWriter(lib, page, sheet.height, { regular, bold }, images, layers, typeface, tags).write(sheet);
    tagged.push({ page, title: sheet.title, tags });
  }
  writeTags(lib, document, tagged);
  describe(lib, document, about);
  return document.save();
}

type Library = typeof import('pdf-lib');

async function embedImages(document: PDFDocument, sheets: readonly Sheet[]): Promise<Map<EncodedImage, PDFImage>> {
  const images = new Map<EncodedImage, PDFImage>();
  for (const sheet of sheets) {
    for (const group of sheet.groups) {
      for (const element of group.elements) {
        if (element.is !== 'image' || images.has(element.image)) continue;
        const { type, bytes } = element.image;
        images.set(element.image, await (type === 'jpeg' ? document.embedJpg(bytes) : document.embedPng(bytes)));
      }
    }
  }
  return images;
}

/** One optional-content group a layer (PDF 32000-1, 8.11), all shown at first. */
function registerLayers(lib: Library, document: PDFDocument, sheets: readonly Sheet[]): Map<Layer, PDFRef> {
  const used = new Set(sheets.flatMap((sheet) => sheet.groups.map((group) => group.layer)));
  const refs = new Map<Layer, PDFRef>();
  for (const layer of used) {
    refs.set(layer, document.context.register(document.context.obj({ Type: 'OCG', Name: lib.PDFString.of(layer) })));
  }
  const all = [...refs.values()];
  document.catalog.set(
    lib.PDFName.of('OCProperties'),
    document.context.obj({ OCGs: all, D: { Name: lib.PDFString.of('Layers'), Order: all, ON: all, BaseState: 'ON' } }),
  );
  return refs;
}

function describe(lib: Library, document: PDFDocument, about: About): void {
  const day = lib.PDFString.of(`D:${about.date.replaceAll('-', '')}000000Z`);
  const title = lib.PDFHexString.fromText(about.title);
  const maker = lib.PDFHexString.fromText('Waneline');
  const info = document.context.obj({ Title: title, Creator: maker, Producer: maker, CreationDate: day, ModDate: day });
  document.context.trailerInfo.Info = document.context.register(info);
  document.setLanguage(about.language);
  document.catalog.getOrCreateViewerPreferences().setDisplayDocTitle(true);
  // A page scaled to fit would spoil every true-size template.
  document.catalog.getOrCreateViewerPreferences().setPrintScaling(lib.PrintScaling.None);
}

/** Writes one sheet's groups as operators of its page. Page space has y up and points for a unit. */
class PageWriter {
  private readonly layerNames = new Map<Layer, string>();

  constructor(
    private readonly lib: Library,
    private readonly page: PDFPage,
    private readonly height: number,
    private readonly fonts: { readonly regular: PDFFont; readonly bold: PDFFont },
    private readonly images: ReadonlyMap<EncodedImage, PDFImage>,
    private readonly layers: ReadonlyMap<Layer, PDFRef>,
    private readonly typeface: Typeface,
    private readonly tags: PageTags,
  ) {}

  write(sheet: Sheet): void {
    for (const group of sheet.groups) this.group(group);
    const { PDFName } = this.lib;
    const properties = this.page.doc.context.obj({});
    for (const [layer, name] of this.layerNames) properties.set(PDFName.of(name), this.layers.get(layer) as PDFRef);
    this.page.node.Resources()?.set(PDFName.of('Properties'), properties);
  }

  private group(group: Group): void {
    const { lib } = this;
    const name = this.layerNames.get(group.layer) ?? `L${this.layerNames.size}`;
    this.layerNames.set(group.layer, name);
    this.operator('BDC', lib.PDFName.of('OC'), lib.PDFName.of(name));
    this.push(lib.pushGraphicsState());
    if (group.clip) {
      this.trace(group.clip, true);
      this.push(lib.clip(), lib.endPath());
    }
    // What lies on the sheet is read line by line; a drawing is a figure, its words and all.
    if (group.layer === 'SHEET') for (const element of group.elements) this.read(element);
    else
      this.tag(this.tags.mark('Figure', group.name), 'Figure', () => {
        for (const element of group.elements) this.element(element);
      });
    this.push(lib.popGraphicsState());
    this.operator('EMC');
  }

  /** An element of a sheet's own: text as text, its lines and frames as what need not be read. */
  private read(element: Element): void {
    if (element.is === 'text') {
      const role = roleOf(element);
      this.tag(this.tags.mark(role), role, () => this.text(element));
      return;
    }
    this.operator('BMC', this.lib.PDFName.of('Artifact'));
    this.element(element);
    this.operator('EMC');
  }

  private tag(id: number, role: string, draw: () => void): void {
    this.operator('BDC', this.lib.PDFName.of(role), `<</MCID ${id}>>`);
    draw();
    this.operator('EMC');
  }

  private element(element: Element): void {
    if (element.is === 'text') this.text(element);
    else if (element.is === 'image') this.image(element);
    else if (element.is === 'arc') this.arc(element);
    else this.path(element);
  }

  private path(element: Path): void {
    this.prepare(element);
    this.trace(element.points, element.closed);
    this.paint(element);
  }

  private arc(element: Arc): void {
    this.prepare(element);
    const { start, curves } = arcBeziers(element);
    this.push(this.lib.moveTo(...this.toPage(start)));
    for (const [p, q, end] of curves) {
      this.push(this.lib.appendBezierCurve(...this.toPage(p), ...this.toPage(q), ...this.toPage(end)));
    }
    this.paint(element);
  }

  private prepare(element: Path | Arc): void {
    const { lib } = this;
    if (element.fill) this.push(lib.setFillingRgbColor(...rgb(element.fill)));
    if (!element.line) return;
    const pen = PENS[element.line];
    this.push(
      lib.setStrokingRgbColor(...rgb(pen.ink)),
      lib.setLineWidth(pen.width * POINTS_PER_MM),
      lib.setLineJoin(lib.LineJoinStyle.Round),
      lib.setDashPattern(
        pen.dash.map((length) => length * POINTS_PER_MM),
        0,
      ),
    );
  }

  private paint(element: Path | Arc): void {
    const { lib } = this;
    if (element.fill && element.line) this.push(lib.fillAndStroke());
    else if (element.fill) this.push(lib.fill());
    else if (element.line) this.push(lib.stroke());
    else this.push(lib.endPath());
  }

  private trace(points: readonly Point<'paper'>[], closed: boolean): void {
    points.forEach((p, i) => {
      this.push(i === 0 ? this.lib.moveTo(...this.toPage(p)) : this.lib.lineTo(...this.toPage(p)));
    });
    if (closed && points.length > 0) this.push(this.lib.closePath());
  }

  private text(element: Text): void {
    const words = this.typeface.printable(element.text);
    const font = element.bold ? this.fonts.bold : this.fonts.regular;
    const width = this.typeface.measure(words, element.size, element.bold);
    const t = (element.turn * Math.PI) / 180;
    let along = element.anchor === 'start' ? 0 : element.anchor === 'middle' ? -width / 2 : -width;
    for (const run of laidRuns(words)) {
      const up = run.rise * element.size;
      const [x, y] = this.toPage([
        element.at[0] + along * Math.cos(t) + up * Math.sin(t),
        element.at[1] + along * Math.sin(t) - up * Math.cos(t),
      ]);
      const size = ((run.scale * element.size) / this.typeface.capital) * POINTS_PER_MM;
      const [r, g, b] = rgb(element.ink);
      this.page.drawText(run.text, {
        x,
        y,
        font,
        size,
        color: this.lib.rgb(r, g, b),
        rotate: this.lib.degrees(-element.turn),
      });
      along += this.typeface.measure(run.text, run.scale * element.size, element.bold);
    }
  }

  private image(element: Image): void {
    const { lib } = this;
    const [a, b, c, d, e, f] = element.place.m;
    const { width, height } = element.image;
    const k = POINTS_PER_MM;
    const image = this.images.get(element.image) as PDFImage;
    const name = this.page.node.newXObject('Photo', image.ref);
    const state = this.page.node.newExtGState(
      'Ghost',
      this.page.doc.context.obj({ Type: 'ExtGState', ca: element.opacity }),
    );
    // The image's unit square stands on its lower edge: pixel (column, row) is (u, 1 - v) of it.
    const [x, y] = this.toPage([c * height + e, d * height + f]);
    this.push(
      lib.pushGraphicsState(),
      lib.setGraphicsState(state),
      lib.concatTransformationMatrix(a * width * k, -b * width * k, -c * height * k, d * height * k, x, y),
      lib.drawObject(name),
      lib.popGraphicsState(),
    );
  }

  private toPage([x, y]: Point<'paper'>): [number, number] {
    return [x * POINTS_PER_MM, (this.height - y) * POINTS_PER_MM];
  }

  private push(...operators: PDFOperator[]): void {
    this.page.pushOperators(...operators);
  }

  private operator(name: string, ...operands: (ReturnType<Library['PDFName']['of']> | string)[]): void {
    // The library's list of operator names lacks the ones for marked content that carries properties.
    this.push(this.lib.PDFOperator.of(name as Parameters<Library['PDFOperator']['of']>[0], operands));
  }
}

const rgb = (ink: Ink): [number, number, number] => [...INKS[ink]] as [number, number, number];
