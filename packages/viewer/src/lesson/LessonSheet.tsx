import { lazy, Suspense } from 'react';
import { useDocument, useView } from '../state/index.ts';
import { LessonWriter } from './LessonWriter.tsx';

const Handout = lazy(() => import('./Handout.tsx'));

/** What of the lesson lies over the bench. */
export function LessonSheet() {
  const open = useView((view) => view.lessonSheet);
  const hasLesson = useDocument((documents) => documents.lesson !== null);
  if (open === 'write') return <LessonWriter />;
  if (open !== 'handout' || !hasLesson) return null;
  return (
    <Suspense fallback={null}>
      <Handout />
    </Suspense>
  );
}
