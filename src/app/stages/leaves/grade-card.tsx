import { type FrontReport, gradeRows, type SetReport } from '../../../plan';
import { useUnits } from '../../parts/job-context';

/** The set held against the grade that its doors ask for, limit by limit with its section. */
export function GradeCard({ grade, fronts }: { grade: SetReport['grade']; fronts: readonly FrontReport[] }) {
  const units = useUnits();
  if (!grade) return null;
  const number = (front: string) => fronts.find(({ id }) => id === front)?.number ?? null;
  const rows = gradeRows(grade, units, number);
  const broken = grade.lines.filter(({ holds }) => holds === false).length;
  return (
    <details class="card" open={broken > 0}>
      <summary>
        {grade.grade} grade:{' '}
        {broken === 0 ? 'every limit holds' : broken === 1 ? '1 limit is broken' : `${broken} limits are broken`}
      </summary>
      <table class="figures grade-table">
        <thead>
          <tr>
            <th scope="col">limit</th>
            <th scope="col">allowed</th>
            <th scope="col">found</th>
            <th scope="col">holds</th>
          </tr>
        </thead>
        <tbody>
          {rows.map(([what, allowed, found, holds, section]) => (
            <tr key={what}>
              <th scope="row">
                {what} <span class="soft">({section})</span>
              </th>
              <td>{allowed}</td>
              <td>{found}</td>
              <td>{holds}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <p class="small soft">
        Sections of the Architectural Woodwork Standards, 1st edition, 2009. A report of limits, not a certificate.
      </p>
    </details>
  );
}
