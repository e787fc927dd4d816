import { BEAM_TESTS } from './flex-beams.fixture.ts';
import { FLEX_CASES } from './flex-cases.fixture.ts';
import { ccxVersion } from './flex-ccx.fixture.ts';
import { solveCase, withRefinement } from './flex-model.fixture.ts';

/** Six digits are what the outside program prints. */
const rounded = (_: string, value: unknown): unknown =>
  typeof value === 'number' ? Number(value.toPrecision(value === Math.round(value) ? 15 : 7)) : value;

/** Levels of the kept answers: where a further halving takes minutes, one fewer. */
export const levelOf = (name: string): number => (name.startsWith('tip') ? 2 : 1);

/** Every answer anew, with where it comes from. `date` as YYYY-MM-DD. */
export function makeAnswers(date: string, say: (line: string) => void): string {
  const version = ccxVersion();
  if (version === null) throw new Error('ccx is not installed');
  const beams = BEAM_TESTS.map(({ name, source, closedFormMm, withinPercent, why, solveMm }) => {
    const programMm = solveMm();
    const errorPercent = 100 * (programMm / closedFormMm - 1);
    say(`${name}: ${programMm.toFixed(5)} mm, closed form ${closedFormMm.toFixed(5)} mm, ${errorPercent.toFixed(3)} %`);
    return { name, source, closedFormMm, programMm, errorPercent, withinPercent, why };
  });
  const answers = FLEX_CASES.map((c) => {
    const level = levelOf(c.name);
    const answer = withRefinement(solveCase(c, level), solveCase(c, level - 1));
    const { movePercent, forcePercent } = answer.refinement;
    say(
      `${c.name}: ${answer.greatestMm.toFixed(4)} mm, from the coarser mesh ${movePercent.toFixed(3)} % in move, ${forcePercent.toFixed(3)} % in force`,
    );
    return answer;
  });
  return `${JSON.stringify({ provenance: provenance(version, date), beams, answers }, rounded, 1)}\n`;
}

const provenance = (version: string, date: string) => ({
  program: 'CalculiX CrunchiX (ccx)',
  version,
  date,
  script: 'tests/reference/flex-answers.mjs',
  units: 'mm, N, MPa; kPa where the name says so',
  frame:
    'bar frame of the right bar: x = b - rockLowPointMm, y outward, z up; t = -1 inner, 1 outer edge of the rounded outline',
  convention:
    'outward = unit normal of the unloaded underside towards the horse; squeeze = c0(b) + u . outward; force of the bed on the bar per unloaded area = -k max(0, squeeze) outward. Linear: strains, normals and areas of the unloaded shape.',
  modelled:
    'C3D20R bricks over (b, t) of the true outline, one layer per ply (two on the kept meshes), lifted along the inward normal that the underside has without its edge relief; thickness as thicknessAt. Held ends: all nodes of the end face. Springs at the 3 x 3 quadrature places of every underside face (SPRING1 on nodes tied by *EQUATION); those that would pull are taken out and the linear deck run again until nobody changes sides. The stirrup slot is not cut out. The rounded outline is met by quadratic edges, which cut the last 2 mm of the corner a little.',
  uncertainty:
    'refinement: distance of the kept mesh from one of half its bricks along and across (and of one layer per ply on the coarsest). A clamped face that may not contract is a singular edge, so the last percent of the convergence is slow.',
});
