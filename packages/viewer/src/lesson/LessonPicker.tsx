import { DEMO_LESSONS } from '../files/demos.ts';
import { openDemoLesson } from '../files/open-files.ts';
import { TEXTS } from '../look/texts.ts';
import { setView, useDocument } from '../state/index.ts';

const WRITE = 'write';

/** The lessons of the shelf, and the way to write one. */
export function LessonPicker() {
  const name = useDocument((documents) => documents.lesson?.document.name ?? TEXTS.lesson.noneOpen);
  const choose = (id: string): void => {
    if (id === WRITE) setView({ lessonSheet: WRITE });
    else void openDemoLesson(id);
  };
  return (
    <label className="head-pick">
      <span>{TEXTS.page.lesson}</span>
      <select value="" aria-label={TEXTS.page.lesson} onChange={(event) => choose(event.currentTarget.value)}>
        <option value="" disabled hidden>
          {name}
        </option>
        {DEMO_LESSONS.map((demo) => (
          <option key={demo.id} value={demo.id}>
            {demo.says}
          </option>
        ))}
        <option value={WRITE}>{TEXTS.lessonWriter.write}</option>
      </select>
    </label>
  );
}
