import { APP_TEXTS } from './texts/app.ts';
import { COMMON_TEXTS } from './texts/common.ts';
import { COMPARE_TEXTS } from './texts/compare.ts';
import { GIVE_TEXTS } from './texts/give.ts';
import { LESSON_TEXTS } from './texts/lesson.ts';
import { MATERIALS_TEXTS } from './texts/materials.ts';
import { PAGE_TEXTS } from './texts/page.ts';
import { PICTURE_TEXTS } from './texts/picture.ts';
import { READING_TEXTS } from './texts/reading.ts';
import { RULER_TEXTS } from './texts/ruler.ts';
import { SETUP_TEXTS } from './texts/setup.ts';

/**
 * Every fixed text of the page by its area: one typed dictionary. Sentences about a seating come from the geometry.
 */
export const TEXTS = {
  ...COMMON_TEXTS,
  ...APP_TEXTS,
  ...PAGE_TEXTS,
  ...PICTURE_TEXTS,
  ...RULER_TEXTS,
  ...SETUP_TEXTS,
  ...MATERIALS_TEXTS,
  ...LESSON_TEXTS,
  ...READING_TEXTS,
  ...GIVE_TEXTS,
  ...COMPARE_TEXTS,
} as const;
