import { existsSync } from 'node:fs';
import { openCv } from '../photo/opencv';
import { distances } from './distances';
import { leaves } from './leaves';
import { map } from './map';
import { subjects } from './photos';
import { seams } from './seams';
import { slabPhotos } from './slab-photos';
import { printTable } from './table';
import { thickness } from './thickness';
import { tracing } from './tracing';
import { yard } from './yard';

/**
 * How well photos are measured and traced, thickness is foretold, joints and leaves are told, against exact truth:
 * `npm run accuracy -- [FOLDER] [distances|map|tracing|thickness|seams|leaves|yard|slab] [NAME ...]`.
 * FOLDER holds rendered photos with their truth (default ../shared/photos); the demo's photos are always taken. NAME: only photos whose
 * name has it. Published planar accuracy of such methods, for comparison, stands in the README.
 */
const PARTS: readonly string[] = ['distances', 'map', 'tracing', 'thickness', 'seams', 'leaves', 'yard', 'slab'];
const args = process.argv.slice(2);
const parts = args.filter((arg) => PARTS.includes(arg));
const folder = args.find((arg) => existsSync(arg)) ?? '../shared/photos';
const names = args.filter((arg) => !parts.includes(arg) && arg !== folder);

const wanted = (part: string) => parts.length === 0 || parts.includes(part);
if (wanted('thickness')) printTable('Thickness from readings', thickness(folder));
if (wanted('seams')) printTable('Joints told from wrong lines: mean over flitches (worst)', await seams(folder, names));
if (wanted('leaves')) printTable('Leaves of one board', await leaves(folder));
if (wanted('yard')) printTable('Carried, by a tape alone', await yard(folder));
const onPhotos = ['distances', 'map', 'tracing', 'slab'].some(wanted);
const all = onPhotos
  ? (await subjects(folder)).filter(({ name }) => names.length === 0 || names.some((part) => name.includes(part)))
  : [];
if (onPhotos) console.log(`${all.length} photos: ${all.map(({ name }) => name).join(', ')}`);
if (wanted('distances')) printTable('Check distances', await distances((await openCv()).cv, all));
if (wanted('map')) printTable('Cutting map', await map((await openCv()).cv, all));
if (wanted('tracing')) printTable('Tracing, true pose given', await tracing((await openCv()).cv, all));
if (wanted('slab'))
  printTable("One photo, by the slab's own length and widths", await slabPhotos((await openCv()).cv, all, folder));
