import { type Riding, type RidingDocument, ridingSchema } from './riding-schema.ts';

const GIRTH = 'girth pull assumed, no source';
const WALK = 'peak at walk 1.23 x rider weight (Fruehwirth et al. 2004, from memory), rounded';
const RISING = 'peak at rising trot 2.54 x (de Cocq et al. 2010)';
const SITTING = 'peak at sitting trot 2.97 x (de Cocq et al. 2010)';
const CANTER = 'peak at canter 2.77 x (Fruehwirth et al. 2004, from memory)';

const SETS: readonly RidingDocument[] = [
  {
    name: 'Standing',
    cases: [{ name: 'standing square', source: 'static weight' }],
  },
  {
    name: 'Hours at walk on hills',
    cases: [
      { name: 'walk on the level', factor: 1.2, source: WALK },
      { name: 'walk uphill 15 degrees', factor: 1.2, riseDeg: 15, girthN: 100, source: `${WALK}; slope and ${GIRTH}` },
      {
        name: 'walk downhill 15 degrees',
        factor: 1.2,
        riseDeg: -15,
        girthN: 100,
        source: `${WALK}; slope and ${GIRTH}`,
      },
      { name: 'leaning 20 mm left', factor: 1.2, offsetMm: -20, source: `${WALK}; lean assumed` },
      {
        name: 'in motion: flatter along and across',
        factor: 1.2,
        flattenPercent: 20,
        flatterDeg: 2,
        source: `${WALK}; a moving back is flatter on average, radius x 1.25 and 2 degrees assumed`,
      },
      {
        name: 'back dipped 10 mm',
        factor: 1.2,
        archMm: -10,
        source: `${WALK}; a loaded back dips (de Cocq et al. 2004), how much is assumed`,
      },
    ],
  },
  {
    name: 'Trot work',
    cases: [
      { name: 'rising trot', factor: 2.5, source: RISING },
      { name: 'sitting trot', factor: 3, source: SITTING },
      {
        name: 'rising trot, 20 mm to the left',
        factor: 2.5,
        offsetMm: -20,
        source: `${RISING}; saddle about 20 mm off centre (Bystrom et al. 2018)`,
      },
      { name: 'sitting trot, back arched 10 mm', factor: 3, archMm: 10, source: `${SITTING}; arch assumed` },
    ],
  },
  {
    name: 'Standing in the stirrups',
    cases: [
      { name: 'standing in both stirrups, canter', factor: 2.8, weightIn: 'stirrups', source: CANTER },
      { name: 'both stirrups, still', weightIn: 'stirrups', source: 'static weight' },
      {
        name: 'mounting from the left',
        weightIn: 'left stirrup',
        girthN: 120,
        source: `mounting loads one side (Geutjens et al. 2008); ${GIRTH}`,
      },
    ],
  },
];

/** Kinds of riding to start from; a shop changes them or writes its own. */
export const RIDING_SETS: readonly Riding[] = SETS.map((set) => ridingSchema.parse(set));
