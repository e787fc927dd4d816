import { CAUTIONS } from '@barwright/geometry';
import { useState } from 'react';
import { flushSync } from 'react-dom';
import { createRoot } from 'react-dom/client';
import { TEXTS } from '../../look/texts.ts';
import { todayIso } from '../../look/today.ts';
import { CompareDrawing, type CompareDrawingProps } from './CompareDrawing.tsx';
import { sentencesOf, type TablesProps, tableGroups } from './CompareTables.tsx';
import { isEqual } from './compare-row.ts';
import { PaperText, paperLines, paperTextHeight } from './PaperText.tsx';

const T = TEXTS.compare;

/** Wide enough for the ruler's names, narrow enough for a sheet of paper, px. */
const PAGE_PX = 1000;

type PageProps = Omit<CompareDrawingProps, 'widthPx' | 'below' | 'style'> & Pick<TablesProps, 'documentsOf'>;

/** The whole comparison as one drawing with its legend, what differs and the cautions in full. */
export async function comparisonPage(props: PageProps, drawnOn: string): Promise<string> {
  const { paperStyle } = await import('./paper-style.ts');
  const tables = { ...props, units: props.view.units };
  const lines = paperLines({
    heading: T.pageTitle(drawnOn),
    results: props.results.map(({ letter, name }) => `${letter}: ${name}`),
    seenFrom: T.seenFrom,
    sentences: sentencesOf(tables),
    groups: tableGroups(tables).map(({ title, rows }) => ({ title, rows: rows.filter((row) => !isEqual(row)) })),
    letters: props.results.map(({ letter }) => letter),
    cautions: CAUTIONS.map(({ full }) => full),
    widthPx: PAGE_PX,
  });
  const holder = document.createElement('div');
  const root = createRoot(holder);
  const { documentsOf: _, ...drawing } = props;
  flushSync(() =>
    root.render(
      <CompareDrawing
        {...drawing}
        widthPx={PAGE_PX}
        style={paperStyle()}
        below={{ heightPx: paperTextHeight(lines), body: (topPx) => <PaperText lines={lines} topPx={topPx} /> }}
      />,
    ),
  );
  const svg = new XMLSerializer().serializeToString(holder.querySelector('svg')!);
  root.unmount();
  return svg;
}

export function SavePage({ isStale, ...props }: PageProps & { isStale: boolean }) {
  const [said, setSaid] = useState('');
  const make = async (use: (svg: string) => void): Promise<void> => {
    try {
      use(await comparisonPage(props, todayIso()));
      setSaid('');
    } catch (error) {
      setSaid(T.notSaved(error instanceof Error ? error.message : String(error)));
    }
  };
  return (
    <p className="compare-save">
      <button type="button" disabled={isStale} onClick={() => void make(save)}>
        {T.save}
      </button>
      <button type="button" disabled={isStale} onClick={() => void make(print)}>
        {T.print}
      </button>
      <span className="small soft" role="status">
        {said}
      </span>
    </p>
  );
}

function save(svg: string): void {
  const link = document.createElement('a');
  link.href = URL.createObjectURL(new Blob([svg], { type: 'image/svg+xml' }));
  link.download = 'comparison.svg';
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 10_000);
}

/** In a frame of its own, so that the bench is not printed with it. */
function print(svg: string): void {
  const frame = document.createElement('iframe');
  frame.className = 'compare-print';
  frame.title = T.print;
  document.body.append(frame);
  const page = frame.contentDocument!;
  const drawing = new DOMParser().parseFromString(svg, 'image/svg+xml').documentElement;
  page.body.append(page.importNode(drawing, true));
  const style = page.createElement('style');
  style.textContent = '@page{margin:10mm}body{margin:0}svg{display:block;width:100%;height:auto}';
  page.head.append(style);
  frame.contentWindow!.addEventListener('afterprint', () => frame.remove());
  frame.contentWindow!.print();
}
