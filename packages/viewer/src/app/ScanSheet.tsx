import { type FormEvent, useState } from 'react';
import { openBack, resultStore, useResult } from '../state/index.ts';

const AXES = ['+x', '-x', '+y', '-y', '+z', '-z'] as const;
const UNITS = ['mm', 'cm', 'm', 'in'] as const;

/** Asks of a scan that came alone what no file says: its unit, and how the horse stands in it. */
export function ScanSheet() {
  const scan = useResult((result) => result.scanToDescribe);
  if (scan === null) return null;
  return <ScanForm key={scan.fileName} fileName={scan.fileName} bytes={scan.bytes} />;
}

const close = (): void => resultStore.setState({ scanToDescribe: null });

function ScanForm({ fileName, bytes }: { fileName: string; bytes: Uint8Array }) {
  const [name, setName] = useState(fileName.replace(/\.[^.]+$/, ''));
  const [unit, setUnit] = useState<(typeof UNITS)[number]>('mm');
  const [axes, setAxes] = useState<Record<'tail' | 'right' | 'up', string>>({ tail: '+x', right: '+y', up: '+z' });
  const [by, setBy] = useState('');
  const [on, setOn] = useState(() => new Date().toISOString().slice(0, 10));
  const letters = new Set(Object.values(axes).map((axis) => axis.slice(1)));
  const submit = (event: FormEvent): void => {
    event.preventDefault();
    const json = {
      schema: 'barwright/back/1',
      kind: 'scan',
      name: name.trim() === '' ? fileName : name,
      mesh: fileName,
      unit,
      axes,
      landmarks: {},
      measured: { by, on, uncertaintyMm: 3, uncertaintyDeg: 2 },
    };
    openBack({ name: json.name, json, mesh: { fileName, bytes } });
    close();
  };
  return (
    <form className="sheet scan-sheet" aria-label="About this scan" onSubmit={submit}>
      <h2>About {fileName}</h2>
      <p className="soft">
        A scan doesn't say its unit or which way the horse stands. Blade edges, withers, low point and last rib are
        proposed from the shape and marked as proposed; for marked landmarks open the scan together with its
        *.back.json.
      </p>
      <label>
        Name of the back
        <input value={name} maxLength={200} onChange={(event) => setName(event.currentTarget.value)} />
      </label>
      <label>
        Unit of the file
        <select value={unit} onChange={(event) => setUnit(event.currentTarget.value as typeof unit)}>
          {UNITS.map((item) => (
            <option key={item}>{item}</option>
          ))}
        </select>
      </label>
      {(['tail', 'right', 'up'] as const).map((way) => (
        <label key={way}>
          {way === 'tail'
            ? 'Axis towards the tail'
            : way === 'right'
              ? "Axis towards the horse's right"
              : 'Axis upward'}
          <select value={axes[way]} onChange={(event) => setAxes({ ...axes, [way]: event.currentTarget.value })}>
            {AXES.map((axis) => (
              <option key={axis}>{axis}</option>
            ))}
          </select>
        </label>
      ))}
      <label>
        Measured by
        <input value={by} maxLength={200} onChange={(event) => setBy(event.currentTarget.value)} />
      </label>
      <label>
        Measured on
        <input type="date" required value={on} onChange={(event) => setOn(event.currentTarget.value)} />
      </label>
      {letters.size < 3 && (
        <p role="alert">Two of the axes are the same: tail, right and up need x, y and z once each.</p>
      )}
      <div className="head-group">
        <button type="submit" disabled={letters.size < 3}>
          Open scan
        </button>
        <button type="button" onClick={close}>
          Leave it
        </button>
      </div>
    </form>
  );
}
