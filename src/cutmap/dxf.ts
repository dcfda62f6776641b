import type { Point } from '../geometry';
import { bends } from './curves';
import { type Element, LAYERS, type Layer, type Sheet } from './drawing';
import { type LineKind, PENS } from './pen';
import { oneLine } from './text';

/** AutoCAD colour numbers: 1 red, 5 blue, 7 black or white, 8 grey. */
const COLOURS = { ink: 7, grey: 8, pale: 9, chalk: 5, pencil: 1, paper: 7, black: 7 } as const;

/** Which kind of line gives a layer its colour and dashes. */
const LAYER_LINES: Record<Layer, LineKind> = {
  PHOTO: 'rule',
  OUTLINE: 'outline',
  DEFECT: 'defect',
  OFFCUT: 'offcut',
  DATUM: 'datum',
  ROUGH: 'rough',
  FINISHED: 'finished',
  JOINT: 'joint',
  KEY: 'pocket',
  POCKET: 'pocket',
  CHISEL: 'defect',
  TEMPLATE: 'template',
  MEASURE: 'measure',
  SHEET: 'frame',
};

/** Dashes drawn for paper are too fine at full size on a slab: they are stretched by this. */
const DASH_SCALE = 5;

/**
 * A drawing as DXF (AC1021, of the year 2007): mm, layers by name, closed lightweight polylines, arcs as arcs (alone or as sides
 * of a polyline), y up.
 * Photos and plain fills stay out. The writer's library loads when it is called.
 */
export async function toDxf(sheet: Sheet): Promise<string> {
  const { DxfWriter, Units, LWPolylineFlags, TextHorizontalAlignment } = await import('@tarikjabiri/dxf');
  const dxf = new DxfWriter();
  dxf.setUnits(Units.Millimeters);
  dxf.setVariable('$MEASUREMENT', { 70: 1 });
  // AutoCAD's rule: a positive element is drawn, a negative one left out.
  const dashed = Object.entries(PENS).filter(([, pen]) => pen.dash.length > 0);
  for (const [kind, pen] of dashed) {
    dxf.addLType(
      kind.toUpperCase(),
      kind,
      pen.dash.map((length, i) => length * DASH_SCALE * (i % 2 === 0 ? 1 : -1)),
    );
  }
  const lineType = (kind: LineKind): string => (PENS[kind].dash.length > 0 ? kind.toUpperCase() : 'Continuous');
  // Every layer is there, used or not, so that a machine's setup can count on the names.
  for (const layer of LAYERS) {
    if (layer === 'PHOTO') continue;
    const kind = LAYER_LINES[layer];
    dxf.addLayer(layer, COLOURS[PENS[kind].ink], lineType(kind));
  }

  const up = (y: number): number => sheet.height - y;
  const point = ([x, y]: Point<'paper'>) => ({ x, y: up(y), z: 0 });
  const add = (element: Element, layerName: Layer): void => {
    if (element.is === 'text') {
      const at = point(element.at);
      const horizontalAlignment = {
        start: TextHorizontalAlignment.Left,
        middle: TextHorizontalAlignment.Center,
        end: TextHorizontalAlignment.Right,
      }[element.anchor];
      dxf.addText(at, element.size, plain(element.text), {
        layerName,
        colorNumber: COLOURS[element.ink],
        rotation: -element.turn,
        horizontalAlignment,
        ...(element.anchor === 'start' ? {} : { secondAlignmentPoint: at }),
      });
      return;
    }
    if (element.is === 'image' || !element.line) return;
    const style = { layerName, colorNumber: COLOURS[PENS[element.line].ink], lineType: lineType(element.line) };
    if (element.is === 'arc') {
      const centre = point(element.centre);
      // Flipping y turns an arc's sense, so its ends change places.
      const [from, to] = [Math.min(element.from, element.to), Math.max(element.from, element.to)];
      if (to - from >= 360) dxf.addCircle(centre, element.radius, style);
      else dxf.addArc(centre, element.radius, -to, -from, style);
      return;
    }
    // Flipping y turns an arc's sense.
    const vertices = bends(element.points, element.closed).map(({ at, bulge }) => ({
      point: point(at),
      ...(bulge !== 0 && { bulge: -bulge }),
    }));
    dxf.addLWPolyline(vertices, { ...style, flags: element.closed ? LWPolylineFlags.Closed : LWPolylineFlags.None });
  };
  for (const group of sheet.groups) for (const element of group.elements) add(element, group.layer);
  return dxf.stringify();
}

/** Text of a drawing file: one line, and a double percent sign (which begins a control code there) broken up. */
const plain = (words: string): string => oneLine(words).replace(/%(?=%)/g, '% ');
