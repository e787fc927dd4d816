import { describe, expect, it } from 'vitest';
import { buildBack } from './build-back.ts';
import { scanDocumentFromProposal } from './propose-document.ts';
import { demoMesh, filePlace, movedMesh, NAMES } from './propose-scan.fixture.ts';
import { proposeScan } from './propose-scan.ts';
import { turnFromAxes } from './scan-axes.ts';
import { scanBackSchema } from './scan-schema.ts';

const MEASURED = { by: 'Quillback Lane bench', on: '2026-04-14', uncertaintyMm: 3, uncertaintyDeg: 2 };
const { back, mesh } = demoMesh('dumpling', 24);
const plain = filePlace({ tail: '+x', right: '+y', up: '+z' }, 'cm');
const mirrored = (p: ArrayLike<number>) => plain([p[0], -p[1], p[2]]);
const marks = (place: typeof plain) => Object.fromEntries(NAMES.map((name) => [name, place(back.landmarks[name])]));
const document = (changes: object) =>
  scanBackSchema.parse({
    ...{ schema: 'barwright/back/1', kind: 'scan', name: 'Dumpling', mesh: 'dumpling.ply', unit: 'cm' },
    ...{ measured: MEASURED, ...changes },
  });

describe('a file that was saved mirrored', () => {
  const want = buildBack(document({ axes: { tail: '+x', right: '+y', up: '+z' }, landmarks: marks(plain) }), {
    mesh: movedMesh(mesh, plain),
  });
  // Movements of points alone leave the winding as an exporter that mirrors coordinates does.
  const file = movedMesh(mesh, mirrored);
  const axes = { tail: '+x', right: '-y', up: '+z' } as const;

  it('gives the back of the horse, left and right where they belong, and says so', () => {
    const got = buildBack(document({ axes, mirrored: true, landmarks: marks(mirrored) }), { mesh: file });
    for (const [x, y] of [
      [50, -150],
      [50, 150],
      [300, 90],
      [300, -90],
    ]) {
      expect(Math.abs(got.heightMm(x, y) - want.heightMm(x, y))).toBeLessThan(1e-6);
    }
    expect(Math.abs(want.heightMm(50, 150) - want.heightMm(50, -150))).toBeGreaterThan(0.1);
    expect(got.warnings.join(' ')).toMatch(/saved mirrored: left and right were swapped back/);
  });

  it('left-handed axes are refused without it, right-handed ones with it, each naming the way out', () => {
    expect(() => turnFromAxes(axes, 'cm')).toThrow(/"mirrored": true and keep -y/);
    expect(() => turnFromAxes({ ...axes, right: '+y' }, 'cm', undefined, true)).toThrow(/leave "mirrored" out/);
  });

  it('is asked about when both blade edges lie on the wrong sides, never when they lie right', () => {
    const asked = proposeScan({ mesh: file }, { unit: 'cm', tail: '+x', up: '+z', landmarks: marks(mirrored) });
    expect(asked.questions.map(({ id, choices }) => [id, choices.map((choice) => choice.id)])).toEqual([
      ['sides', ['mirrored', 'names-swapped']],
    ]);
    expect(asked.mirrored).toMatchObject({ value: false, confidence: 'unsure' });
    expect(asked.toConfirm).toContain('sides');
    const said = proposeScan(
      { mesh: file },
      { unit: 'cm', tail: '+x', up: '+z', landmarks: marks(mirrored), mirrored: true },
    );
    expect([said.questions, said.right.value, said.mirrored.given]).toEqual([[], '-y', true]);
    const doc = scanDocumentFromProposal(said, { name: 'Dumpling', mesh: 'dumpling.ply', measured: MEASURED });
    expect(doc).toMatchObject({ mirrored: true, axes });
    const sound = proposeScan({ mesh: movedMesh(mesh, plain) }, { unit: 'cm', tail: '+x', landmarks: marks(plain) });
    expect([sound.questions, sound.mirrored.confidence]).toEqual([[], 'clear']);
    expect(proposeScan({ mesh: file }, { unit: 'cm' }).mirrored.reason).toMatch(/Not told/);
  });
});

describe('clean-up that a document asks for', () => {
  const doc = document({ axes: { tail: '+x', right: '+y', up: '+z' }, landmarks: marks(plain) });
  const spiked = movedMesh(mesh, plain);
  // A vertex well inside, 25 mm up.
  const vertex = spiked.positions.findIndex(
    (_, i, p) => i % 3 === 0 && Math.hypot(p[i] - plain([300, 60, 0])[0], p[i + 1] - plain([300, 60, 0])[1]) < 2,
  );
  spiked.positions[vertex + 2] += 2.5;
  const before = Float64Array.from(spiked.positions);

  it('takes the spike out and says so; without the step it is back, and the mesh was never touched', () => {
    const cleaned = buildBack({ ...doc, cleaning: ['spikes'] }, { mesh: spiked });
    const asIs = buildBack(doc, { mesh: spiked });
    expect(cleaned.warnings.join(' ')).toMatch(/Cleaned as the document asks \(spikes\): \d points stood/);
    expect(asIs.warnings.join(' ')).not.toMatch(/Cleaned/);
    expect(asIs.drawingMesh().triangles.length).toBeGreaterThan(cleaned.drawingMesh().triangles.length);
    expect(spiked.positions).toEqual(before);
  });

  it('names each step once, and only steps that there are', () => {
    expect(() => document({ ...doc, cleaning: ['hair', 'hair'] })).toThrow(/each step once/);
    expect(() => document({ ...doc, cleaning: ['shave'] })).toThrow(/cleaning/);
  });
});
