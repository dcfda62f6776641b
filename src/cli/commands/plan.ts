import { PAPERS, type PaperName } from '../../cutmap';
import { type Job, jobSchema, type Plan } from '../../job';
import { DOORS_ALONE, type PlanReport, planOutput, planReport, plansWithKeys, proposals } from '../../plan';
import { stage } from '../../search';
import { InputProblem } from '../../units';
import type { Arguments } from '../arguments';
import type { Command } from '../command';
import { loadHighs } from '../highs';
import { leafPicturesOf, withDoorsLaid } from '../job-doors';
import { traceJob } from '../job-pictures';
import { readJobSource } from '../job-source';
import { refuseBadStock } from '../job-stock';
import { checkOutFolder, writeFolder } from '../out-folder';
import { EXACT, planFiles } from '../plan-files';
import { LIMITS, watch } from '../watch';

function paperOf(args: Arguments, job: Job): PaperName {
  const name = args.text('paper');
  if (name === undefined) return job.units === 'mm' ? 'A4' : 'Letter';
  const known = (Object.keys(PAPERS) as PaperName[]).find((one) => one.toLowerCase() === name.toLowerCase());
  if (known) return known;
  throw new InputProblem(
    `"${name}" is not a paper that is known here.`,
    '--paper',
    `Name one of these: ${Object.keys(PAPERS).join(', ')}.`,
  );
}

/** The plan that the job keeps, reported. @throws InputProblem when it no longer fits the job */
function keptReport(job: Job): PlanReport | null {
  const plan = job.keptPlan === null ? undefined : job.plans[job.keptPlan];
  if (!plan) return null;
  const report = planReport(job, plan);
  const [fault] = report.verdict.faults;
  if (fault)
    throw new InputProblem(
      `The kept plan does not fit the job any more: ${fault.message}`,
      `/plans/${plan.id}`,
      'Keep another plan, or leave the choice to the search with --anew.',
    );
  return report;
}

/** The best of the plans that the checker passes. @throws Error when it passes none: a fault of ours */
function soundReport(job: Job, plans: readonly Plan[]): PlanReport {
  const faults: string[] = [];
  for (const plan of plans) {
    const report = planReport(job, plan);
    if (report.verdict.passed) return report;
    faults.push(...report.verdict.faults.map(({ where, message }) => `${plan.id} ${where}: ${message}`));
  }
  throw new Error(`No plan passes the checker. ${faults.join(' ')}`);
}

export const plan: Command = {
  summary: 'The whole job: where to cut, and every sheet and file of the cutting map',
  usage: 'JOB --out DIR [--work N | --seconds N] [--paper NAME] [--anew] [--progress]',
  about: `
JOB is a folder with job.json and its photos, or the app's own portable file. Faces with photos but without an outline are traced first; then
the tops are laid on the slabs. DIR gets plan.json, cutting-map.pdf, an .svg of each sheet, a .dxf of each slab, budget.csv and
other tables, and a .png of each top (a top without photos has none). A plan that the job keeps is taken as it is; otherwise the best that is
found. Doors are laid on the leaves that the job has outlines of, and stand in plan.json under "sets". A top that no slab can give stands in plan.json under "misses", with the limit that binds and by how much.`,
  example: 'demo-images --out /tmp/north-wall --progress',
  options: {
    out: {
      value: 'DIR',
      about: 'Folder for the files; made if it is not there. Files of an earlier plan in it are replaced.',
    },
    ...LIMITS,
    paper: {
      value: 'NAME',
      about: `${Object.keys(PAPERS).join(', ')} (rolls of 24 and 36 in); A4 for a metric job, Letter for one in inches, if left out.`,
    },
    anew: { about: 'Search again even where the job keeps a plan.' },
    progress: { about: 'Tell on standard error how far it is.' },
  },
  operands: ['JOB'],
  shapes: async () => ({
    output: planOutput,
    inputs: { input: jobSchema },
    exact: { keys: EXACT, because: 'slopes count over metres' },
  }),
  async run(args, io) {
    const out = args.needed('out');
    const control = watch(args, io, args.has('progress'));
    const source = await readJobSource(io, args.operands[0] as string);
    await checkOutFolder(io, out, source.folder);
    const paper = paperOf(args, source.job);
    refuseBadStock(source.job);
    const traced = await traceJob(source, stage(control, 0, 0.4));
    const { pictures } = traced;
    const leaves = await leafPicturesOf(source);
    const job = await withDoorsLaid(traced.job, leaves, args.has('anew'), stage(control, 0.4, 0.5));
    const kept = args.has('anew') ? null : keptReport(job);
    const { highs } = await loadHighs();
    const searched = async () => {
      const { plans, words } = plansWithKeys(
        job,
        job.keptPlan,
        await proposals(job, pictures, highs, stage(control, 0.5, 0.9)),
      );
      for (const line of words) io.tell(line);
      return soundReport(job, plans);
    };
    // Doors have papers without a top.
    const alone = Object.keys(job.tops).length === 0 && job.keptSet !== null;
    const report = kept ?? (alone ? planReport(job, DOORS_ALONE) : await searched());
    for (const { message } of report.misses) io.tell(message);
    for (const { misses } of report.sets) for (const { reason, mend } of misses) io.tell(`${reason} ${mend}`);
    control.progress(0.9, 'drawing');
    const files = await planFiles(job, report, pictures, leaves, paper, stage(control, 0.9, 1));
    await writeFolder(io, out, files);
    control.progress(1, 'done');
  },
};
