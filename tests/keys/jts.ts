/** Rings for the JTS Topology Suite's port: a second polygon library that shares no code with ours. */

import GeometryFactory from 'jsts/org/locationtech/jts/geom/GeometryFactory.js';
import GeoJSONReader from 'jsts/org/locationtech/jts/io/GeoJSONReader.js';
import type { Polygon } from '../../src/geometry';

export const shape = (ring: Polygon<'top'>) =>
  new GeoJSONReader(new GeometryFactory()).read({
    type: 'Polygon',
    coordinates: [[...ring, ring[0]].map((p) => [...(p as Polygon<'top'>[0])])],
  });
export type Shape = ReturnType<typeof shape>;
