import { APP_TEXTS } from './texts/app.ts';
import { COMMON_TEXTS } from './texts/common.ts';
import { COMPARE_TEXTS } from './texts/compare.ts';
import { DEMO_TEXTS } from './texts/demos.ts';
import { DESK_TEXTS } from './texts/desk.ts';
import { GIVE_TEXTS } from './texts/give.ts';
import { HABIT_TEXTS } from './texts/habits.ts';
import { LESSON_TEXTS } from './texts/lesson.ts';
import { MATERIALS_TEXTS } from './texts/materials.ts';
import { NUMBERS_TEXTS } from './texts/numbers.ts';
import { PAGE_TEXTS } from './texts/page.ts';
import { PHOTO_TEXTS } from './texts/photo.ts';
import { PHOTO_LINE_TEXTS } from './texts/photo-line.ts';
import { PHOTO_READING_TEXTS } from './texts/photo-reading.ts';
import { PICTURE_TEXTS } from './texts/picture.ts';
import { REACH_TEXTS } from './texts/reach.ts';
import { READING_TEXTS } from './texts/reading.ts';
import { NOTICE_TEXTS, REFUSAL_TEXTS } from './texts/refusals.ts';
import { RIDING_TEXTS } from './texts/riding.ts';
import { RULER_TEXTS } from './texts/ruler.ts';
import { SCAN_TEXTS } from './texts/scan.ts';
import { SETUP_TEXTS } from './texts/setup.ts';
import { SHOULDER_TEXTS } from './texts/shoulder.ts';
import { SIZING_TEXTS } from './texts/sizing.ts';
import { STUDIES_TEXTS } from './texts/studies.ts';
import { STUDY_RUN_TEXTS } from './texts/study-run.ts';
import { SURE_TEXTS } from './texts/sure.ts';
import { TRACINGS_TEXTS } from './texts/tracings.ts';
import { TWO_BACKS_TEXTS } from './texts/two-backs.ts';

/**
 * The whole dictionary by area, for whoever reviews or translates it. The page itself takes its first words from texts.ts;
 * desks and studies bring theirs along when they are opened.
 */
export const ALL_TEXTS = {
  app: APP_TEXTS,
  common: COMMON_TEXTS,
  compare: COMPARE_TEXTS,
  demos: DEMO_TEXTS,
  desk: DESK_TEXTS,
  give: GIVE_TEXTS,
  habits: HABIT_TEXTS,
  lesson: LESSON_TEXTS,
  materials: MATERIALS_TEXTS,
  numbers: NUMBERS_TEXTS,
  page: PAGE_TEXTS,
  photo: PHOTO_TEXTS,
  'photo-line': PHOTO_LINE_TEXTS,
  'photo-reading': PHOTO_READING_TEXTS,
  picture: PICTURE_TEXTS,
  reach: REACH_TEXTS,
  reading: READING_TEXTS,
  refusals: { ...REFUSAL_TEXTS, ...NOTICE_TEXTS },
  riding: RIDING_TEXTS,
  ruler: RULER_TEXTS,
  scan: SCAN_TEXTS,
  setup: SETUP_TEXTS,
  shoulder: SHOULDER_TEXTS,
  sizing: SIZING_TEXTS,
  studies: STUDIES_TEXTS,
  'study-run': STUDY_RUN_TEXTS,
  sure: SURE_TEXTS,
  tracings: TRACINGS_TEXTS,
  'two-backs': TWO_BACKS_TEXTS,
} as const;
