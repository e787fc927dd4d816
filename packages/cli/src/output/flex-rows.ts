import type { GiveFigures, GiveStudy } from '@barwright/geometry';

/** Every variant of the study with its name, in the order of the tables. */
export function flexRows(
  study: GiveStudy,
): { readonly group: string; readonly name: string; readonly figures: GiveFigures }[] {
  return [
    ...study.parts.map(({ part, figures }) => ({ group: 'parts', name: nameOfPart(part), figures })),
    ...study.warmUp.minutes.map(({ minutes, barC, figures }) => ({
      group: 'minutes on the horse',
      name: `${minutes} min, bars ${barC.toFixed(0)} C`,
      figures,
    })),
    ...study.warmUp.hours.map(({ hours, figures }) => ({
      group: 'hours under load',
      name: hoursWords(hours),
      figures,
    })),
    ...study.cover.map(({ name, figures }) => ({ group: 'cover', name, figures })),
  ];
}

const nameOfPart = (part: string): string => (part === 'as built' || part === 'rigid bars' ? part : `without ${part}`);

const HOURS_A_YEAR = 8766;
const hoursWords = (hours: number): string =>
  hours >= HOURS_A_YEAR ? `${(hours / HOURS_A_YEAR).toFixed(0)} y` : `${hours} h`;

/** Load carried by tips, both bars, both ends, N. */
export const tipLoadN = ({ zones }: GiveFigures): number =>
  zones.filter(({ name }) => name.includes('tip')).reduce((sum, { loadN }) => sum + loadN, 0);

/** Largest move of a front tip and of the middle, mm, by size; null for rigid bars. */
export const largestMoves = ({
  flex,
}: GiveFigures): { tipMm: number; middleMm: number; strainPercent: number } | null =>
  flex === null
    ? null
    : {
        tipMm: largest(flex.bars.map(({ tips }) => tips[0].greatestMm)),
        middleMm: largest(flex.bars.map(({ middleMm }) => middleMm)),
        strainPercent: largest(flex.bars.flatMap(({ tips }) => tips.map(({ rootStrainPercent }) => rootStrainPercent))),
      };

const largest = (values: readonly number[]): number =>
  values.reduce((most, value) => (Math.abs(value) > Math.abs(most) ? value : most), 0);
