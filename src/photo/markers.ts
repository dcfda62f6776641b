import type { Point } from '../geometry';
import type { Raster } from '../raster';
import { InputProblem } from '../units';
import { type Cv, scope, toGray, toRaster } from './cv';
import { MARKER_CELLS, markerPattern } from './dictionary';
import { type EdgeSpot, edgeSpot } from './edges';
import type { Local, SeenEdge } from './marks';
import { type Corners, cornersFromSides, squareOff, squareTo } from './quad';

/** Edges wider than this, px or as a share of a cell, run into each other. */
const BLUR = { px: 7, share: 0.6 };
/** The way out over the top, right, bottom and left side. */
const SIDES: readonly Local[] = [
  [0, -1],
  [1, 0],
  [0, 1],
  [-1, 0],
];

/** A square fiducial marker as found in a photo. */
export interface Marker {
  readonly id: number;
  /** Its outer corners, clockwise from its own top left. */
  readonly corners: Corners;
}

/** A marker with every edge between its dark and light cells, on a drawing of side 1 whose origin is its middle. */
export interface SeenMarker extends Marker {
  readonly edges: readonly SeenEdge[];
  /** Width of its edges, px (median). */
  readonly blur: number;
  /** Length of a cell's side, px (shortest). */
  readonly cell: number;
}

/**
 * All markers of dictionary 4x4_50 in a photo.
 * @throws InputProblem when the same marker is there twice
 */
export function findMarkers(cv: Cv, photo: Raster): Marker[] {
  return seeMarkers(cv, photo).seen.map(({ id, corners }) => ({ id, corners }));
}

/**
 * The same with their edges, found to a small part of a pixel at full size, in order of id; and the ids of those whose edges are too
 * small or too blurred to measure by. `found` are all of them, as they were found at first.
 */
export function seeMarkers(cv: Cv, photo: Raster): { seen: SeenMarker[]; poor: number[]; found: Marker[] } {
  const { gray, found } = scope(cv, (own) => {
    const full = own(toGray(cv, photo));
    const half = own(new cv.Mat());
    const factor = Math.max(1, Math.round(Math.max(photo.width, photo.height) / 2000));
    const size = new cv.Size(Math.floor(photo.width / factor), Math.floor(photo.height / factor));
    cv.resize(full, half, size, 0, 0, cv.INTER_AREA);
    const found = detectMarkers(cv, toRaster(half)).map((marker) => enlarged(marker, factor));
    // Markers far away may be read at full size only.
    if (factor > 1 && found.length < 4) {
      for (const marker of detectMarkers(cv, toRaster(full))) {
        if (!found.some((other) => other.id === marker.id && near(other, marker))) found.push(marker);
      }
    }
    return { gray: toRaster(full), found };
  });
  const refined = found.map((marker) => refine(gray, marker, markerPattern(marker.id)));
  const sharp = refined.filter(
    (marker) => marker !== null && marker.blur < Math.min(BLUR.px, BLUR.share * marker.cell),
  );
  const seen = sharp as SeenMarker[];
  const poor = found.flatMap(({ id }) => (seen.some((marker) => marker.id === id) ? [] : [id])).sort((a, b) => a - b);
  seen.sort((a, b) => a.id - b.id);
  seen.forEach((marker, i) => {
    if (marker.id === seen[i + 1]?.id) {
      throw new InputProblem(
        `Marker ${marker.id} is in this photo twice.`,
        '',
        'Cover one of the two, or print every marker once with a number of its own, and photograph again; or place four points by hand.',
      );
    }
  });
  return { seen, poor, found };
}

/** Markers in a grey picture, their corners to about a pixel; some may be none. */
export function detectMarkers(cv: Cv, gray: Raster): Marker[] {
  return scope(cv, (own) => {
    const image = own(new cv.Mat(gray.height, gray.width, cv.CV_8UC1));
    image.data.set(gray.data);
    const dictionary = own(cv.getPredefinedDictionary(cv.DICT_4X4_50));
    const parameters = own(new cv.aruco_DetectorParameters());
    const detector = own(
      new cv.aruco_ArucoDetector(dictionary, parameters, own(new cv.aruco_RefineParameters(10, 3, true))),
    );
    const corners = own(new cv.MatVector());
    const ids = own(new cv.Mat());
    detector.detectMarkers(image, corners, ids);
    return Array.from({ length: ids.rows * ids.cols }, (_, i) => {
      const c = own(corners.get(i)).data32F;
      const corner = (k: number): Point<'photo'> => [c[2 * k] as number, c[2 * k + 1] as number];
      return { id: ids.data32S[i] as number, corners: [corner(0), corner(1), corner(2), corner(3)] as const };
    });
  });
}

/** Pixel centres of a picture made smaller by area: u = factor * u' + (factor - 1) / 2. */
function enlarged(marker: Marker, factor: number): Marker {
  const up = (p: Point<'photo'>): Point<'photo'> => [
    factor * p[0] + (factor - 1) / 2,
    factor * p[1] + (factor - 1) / 2,
  ];
  const [a, b, c, d] = marker.corners;
  return { id: marker.id, corners: [up(a), up(b), up(c), up(d)] };
}

function near(a: Marker, b: Marker): boolean {
  return a.corners.every((p) => b.corners.some((q) => Math.hypot(p[0] - q[0], p[1] - q[1]) < 8));
}

/** An edge between a dark and a light cell on the drawing: a unit of MARKER_CELLS, cut short where corners round it off. */
interface CellEdge {
  readonly a: Local;
  readonly b: Local;
  readonly towards: Local;
  readonly outer: boolean;
  /** As in SeenEdge. */
  readonly line?: number;
}

function cellEdges(light: (column: number, row: number) => boolean): CellEdge[] {
  const edges: CellEdge[] = [];
  const spot = (k: number) => k / MARKER_CELLS - 0.5;
  for (let along = 0; along < MARKER_CELLS; along++) {
    for (let line = 0; line <= MARKER_CELLS; line++) {
      const [from, to] = [spot(along + 0.2), spot(along + 0.8)];
      const outer = line === 0 || line === MARKER_CELLS;
      const inner = (first: number) => (outer ? {} : { line: first + line - 1 });
      const [left, right] = [light(line - 1, along), light(line, along)];
      if (left !== right) {
        edges.push({ a: [spot(line), from], b: [spot(line), to], towards: [right ? 1 : -1, 0], outer, ...inner(0) });
      }
      const [above, below] = [light(along, line - 1), light(along, line)];
      if (above !== below) {
        edges.push({
          a: [from, spot(line)],
          b: [to, spot(line)],
          towards: [0, below ? 1 : -1],
          outer,
          ...inner(MARKER_CELLS - 1),
        });
      }
    }
  }
  return edges;
}

/** A marker's edges at full size, or null where most of what the code promises is not there (a false find). */
function refine(gray: Raster, marker: Marker, light: (column: number, row: number) => boolean): SeenMarker | null {
  const edges = cellEdges(light);
  let corners = marker.corners;
  let seen: { edge: CellEdge; spot: EdgeSpot }[] = [];
  const cell = Math.min(...corners.map((p, i) => distance(p, corners[(i + 1) % 4] as Point<'photo'>))) / MARKER_CELLS;
  if (cell < 3) return null;
  for (let pass = 0; pass < 3; pass++) {
    const map = squareTo(corners);
    const reach = Math.max(1.5, Math.min(pass === 0 ? 8 : 5, cell * 0.45));
    const wanted = pass === 0 ? edges.filter((edge) => edge.outer) : edges;
    seen = wanted.flatMap((edge) => {
      const [a, b] = [map(edge.a), map(edge.b)];
      const spot = edgeSpot(gray, a, b, squareOff([a, b], [edge.a, edge.b], edge.towards), reach, 'half the grey');
      return spot ? [{ edge, spot }] : [];
    });
    if (seen.length < wanted.length * 0.7) return null;
    const sides = SIDES.map(([x, y]) =>
      seen.flatMap(({ edge, spot }) => (edge.outer && edge.towards[0] === x && edge.towards[1] === y ? [spot.px] : [])),
    );
    corners = cornersFromSides(sides) ?? corners;
  }
  const blurs = seen.map(({ spot }) => spot.blur).sort((p, q) => p - q);
  return {
    id: marker.id,
    corners,
    cell,
    blur: blurs[blurs.length >> 1] as number,
    edges: seen.map(({ edge, spot }) => ({
      at: [(edge.a[0] + edge.b[0]) / 2, (edge.a[1] + edge.b[1]) / 2],
      towards: edge.towards,
      px: spot.px,
      outer: edge.outer,
      ...(edge.line !== undefined && { line: edge.line }),
    })),
  };
}

function distance(p: Point<'photo'>, q: Point<'photo'>): number {
  return Math.hypot(p[0] - q[0], p[1] - q[1]);
}
