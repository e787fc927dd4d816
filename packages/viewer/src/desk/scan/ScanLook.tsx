import {
  lazy,
  type ReactNode,
  type PointerEvent as ReactPointerEvent,
  Suspense,
  useMemo,
  useRef,
  useState,
} from 'react';
import { ErrorBoundary } from 'react-error-boundary';
import { SCAN_TEXTS } from '../../look/texts/scan.ts';
import { hasWebGl } from '../../scene/has-webgl.ts';
import { useView } from '../../state/hooks.ts';
import type { ViewFrom } from '../../state/view-state.ts';
import type { DrawnMesh } from './drawing-mesh.ts';
import { type HorseFrame, pictureWords } from './horse-frame.ts';
import type { MarkName } from './scan-choices.ts';
import type { Point } from './scan-way.ts';

const T = SCAN_TEXTS.picture;
const MARKS = SCAN_TEXTS.marks;

const ScanPicture = lazy(() => import('./ScanPicture.tsx'));

export interface Pin {
  readonly name: MarkName;
  readonly at: Point;
  readonly isTouched: boolean;
}

export interface ScanLookProps {
  readonly drawn: DrawnMesh | null;
  readonly takenOut: DrawnMesh | null;
  readonly frame: HorseFrame | null;
  readonly pins: readonly Pin[];
  readonly armed: MarkName | null;
  /** The last touch was beside the scan. */
  readonly hasMissed: boolean;
  readonly onTouch: (at: Point | null) => void;
  readonly onDisarm: () => void;
  /** While a pin is dragged `isDone` is false. */
  readonly onMove: (name: MarkName, at: Point, isDone: boolean) => void;
  /** By mm to the tail and to the right, along the surface. */
  readonly onNudge: (name: MarkName, tailMm: number, rightMm: number) => void;
  readonly view: { readonly from: ViewFrom; readonly asked: number };
  readonly onView: (from: ViewFrom) => void;
  /** What is being worked at. */
  readonly children: ReactNode;
}

const VIEWS = ['three-quarter', 'left', 'right', 'above'] as const satisfies readonly ViewFrom[];

/** The scan as the horse would stand, its directions, and the landmarks as pins that can be moved. */
export function ScanLook(props: ScanLookProps) {
  const { drawn, takenOut, frame, pins, armed, view, onView } = props;
  const theme = useView((state) => state.theme);
  const pinHolder = useRef<HTMLDivElement>(null);
  const labelHolder = useRef<HTMLDivElement>(null);
  const pick = useRef<((x: number, y: number) => Point | null) | null>(null);
  const [canDraw] = useState(hasWebGl);
  const places = useMemo(() => pins.map(({ at }) => at), [pins]);
  const labels = useMemo(() => (frame === null ? [] : pictureWords(frame)), [frame]);
  return (
    <div className={armed === null ? 'desk-look scan-look' : 'desk-look scan-look scan-armed'}>
      <fieldset className="switch scan-views">
        <legend className="visually-hidden">{T.lookFrom}</legend>
        {VIEWS.map((from) => (
          <button key={from} type="button" aria-pressed={view.from === from} onClick={() => onView(from)}>
            {T.views[from]}
          </button>
        ))}
      </fieldset>
      {canDraw ? (
        <ErrorBoundary fallback={<NoPicture />}>
          <Suspense fallback={null}>
            {drawn !== null && frame !== null && (
              <ScanPicture
                theme={theme}
                drawn={drawn}
                takenOut={takenOut}
                frame={frame}
                pins={places}
                pinHolder={pinHolder}
                labelHolder={labelHolder}
                labels={labels}
                from={view.from}
                asked={view.asked}
                pick={pick}
                onTouch={props.onTouch}
              />
            )}
          </Suspense>
          <div className="scan-words" ref={labelHolder} aria-hidden="true">
            {labels.map((text) => (
              <span key={text}>{text}</span>
            ))}
          </div>
          <div className="scan-pins" ref={pinHolder} data-centre={drawn?.centre.join(' ')}>
            {pins.map((pin) => (
              <PinButton key={pin.name} pin={pin} pick={pick} onMove={props.onMove} onNudge={props.onNudge} />
            ))}
          </div>
        </ErrorBoundary>
      ) : (
        <NoPicture />
      )}
      <div className="scan-foot">
        {props.children}
        {armed !== null && (
          <div className="scan-prompt" role="status">
            <span>
              {props.hasMissed ? T.missed : T.touch}
              <strong>{MARKS.names[armed]}</strong>
              <span className="scan-prompt-where">{T.where(MARKS.where[armed])}</span>
            </span>
            <button type="button" onClick={props.onDisarm}>
              {T.leave}
            </button>
          </div>
        )}
      </div>
    </div>
  );
}

/** A pin: drawn hollow while it is only proposed. It is moved by dragging, or by the arrow keys once it has the focus. */
function PinButton({
  pin: { name, at, isTouched },
  pick,
  onMove,
  onNudge,
}: {
  pin: Pin;
  pick: { readonly current: ((x: number, y: number) => Point | null) | null };
  onMove: ScanLookProps['onMove'];
  onNudge: ScanLookProps['onNudge'];
}) {
  const last = useRef<Point | null>(null);
  const move = (event: ReactPointerEvent<HTMLButtonElement>): void => {
    if (!event.currentTarget.hasPointerCapture(event.pointerId)) return;
    const found = pick.current?.(event.clientX, event.clientY) ?? null;
    if (found === null) return;
    last.current = found;
    onMove(name, found, false);
  };
  const says = isTouched ? MARKS.names[name] : T.proposed(MARKS.names[name]);
  return (
    <button
      type="button"
      className={isTouched ? 'scan-pin scan-pin-touched' : 'scan-pin'}
      aria-label={T.pin(says)}
      data-at={at.map((value) => value.toPrecision(9)).join(' ')}
      onPointerDown={(event) => {
        last.current = null;
        event.currentTarget.setPointerCapture(event.pointerId);
      }}
      onPointerMove={move}
      onPointerUp={() => {
        if (last.current !== null) onMove(name, last.current, true);
        last.current = null;
      }}
      onKeyDown={(event) => {
        const step = NUDGES[event.key];
        if (step === undefined) return;
        event.preventDefault();
        const far = event.shiftKey ? 10 : 1;
        onNudge(name, far * step[0], far * step[1]);
      }}
    >
      <span className="scan-pin-dot" />
      <span className="scan-pin-name">{says}</span>
    </button>
  );
}

/** Seen from the horse's left, head to the left. */
const NUDGES: Readonly<Record<string, readonly [number, number]>> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, 1],
  ArrowDown: [0, -1],
};

function NoPicture() {
  return <p className="scan-nopicture">{T.none}</p>;
}
