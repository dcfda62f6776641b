import { existsSync } from 'node:fs';
import { openCv } from '../photo/opencv';
import { distances } from './distances';
import { subjects } from './photos';
import { printTable } from './table';
import { thickness } from './thickness';
import { tracing } from './tracing';

/**
 * How well photos are measured and traced, and thickness is foretold, against exact truth: `npm run accuracy -- [FOLDER] [distances|tracing|thickness] [NAME ...]`.
 * FOLDER holds rendered photos with their truth (default ../shared/photos); the demo's photos are always taken. NAME: only photos whose
 * name has it. Published planar accuracy of such methods, for comparison, stands in the README.
 */
const PARTS: readonly string[] = ['distances', 'tracing', 'thickness'];
const args = process.argv.slice(2);
const parts = args.filter((arg) => PARTS.includes(arg));
const folder = args.find((arg) => existsSync(arg)) ?? '../shared/photos';
const names = args.filter((arg) => !parts.includes(arg) && arg !== folder);

const wanted = (part: string) => parts.length === 0 || parts.includes(part);
if (wanted('thickness')) printTable('Thickness from readings', thickness(folder));
const all = (await subjects(folder)).filter(
  ({ name }) => names.length === 0 || names.some((part) => name.includes(part)),
);
const { cv } = await openCv();
console.log(`${all.length} photos: ${all.map(({ name }) => name).join(', ')}`);
if (wanted('distances')) printTable('Check distances', await distances(cv, all));
if (wanted('tracing')) printTable('Tracing, true pose given', await tracing(cv, all));
