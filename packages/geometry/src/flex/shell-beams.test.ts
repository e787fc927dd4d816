import { describe, expect, it } from 'vitest';
import { displacementAt, evenCells, evenly, flatPatch, isotropic, lineForce } from './flex.fixture.ts';
import { pressShell, type SpringBed } from './press-shell.ts';
import { addBed, addSpring, assembleShell } from './shell-stiffness.ts';

const UP = [0, 0, 1] as const;
const STUB = 10;

/** Room for a stiff bed beyond the free length; curvature may jump where it begins. */
const clampable = (freeMm: number, widthMm: number) =>
  flatPatch(() => widthMm, [...evenly(0, freeMm - 1, 16), freeMm, freeMm + 1, freeMm + STUB], 2, [freeMm]);

/** Clamps the end b = length by a stiff bed on a short stub beyond `freeMm`. */
function cantilever(freeMm: number, widthMm: number, thicknessAt: (fromTip: number) => number, modulusMPa: number) {
  const patch = clampable(freeMm, widthMm);
  const k = assembleShell(patch, (b) => isotropic(modulusMPa, 0, 0, thicknessAt(Math.min(b, freeMm))));
  addBed(patch, k, freeMm, freeMm + STUB, 1e7);
  return { patch, k };
}

describe('tapered and layered cantilevers (VALIDATION A5, Roark/Gere from memory)', () => {
  it.each([
    [0.5, 0.5451774],
    [1 / 3, 0.7078165],
    [0.25, 0.8415866],
  ])('taper %f, end load: tip deflection coefficient %f within 0.5 %%', (t, c1) => {
    const [length, width, h0, modulus, load] = [120, 60, 12, 900, 20];
    const { patch, k } = cantilever(length, width, (u) => h0 * (t + ((1 - t) * u) / length), modulus);
    const { u } = pressShell(k, null, lineForce(patch, 0, [0, 0, load]));
    const ei = (modulus * width * h0 ** 3) / 12;
    const tip = displacementAt(patch, u, 0, 0)[2]!;
    expect(Math.abs(tip / ((load * length ** 3 * c1) / ei) - 1)).toBeLessThan(0.005);
  });

  it.each([
    [1000, 250, 6, 10],
    [1000, 100, 6, 6],
    [200, 900, 5, 7],
  ])('two layers bonded, E %i and %i MPa, %i and %i mm thick: bonded EI within 0.5 %%', (e1, e2, h1, h2) => {
    const [length, width, load] = [150, 60, 5];
    const patch = clampable(length, width);
    const plies = [isotropic(e1, 0, 0, h1), isotropic(e2, 0, h1, h1 + h2)].flatMap((layup) => layup.plies);
    const k = assembleShell(patch, () => ({ plies, riseMm: 0 }));
    addBed(patch, k, length, length + STUB, 1e7);
    const { u } = pressShell(k, null, lineForce(patch, 0, [0, 0, load]));
    const ei =
      ((width / 12) *
        (e1 ** 2 * h1 ** 4 + e2 ** 2 * h2 ** 4 + 2 * e1 * e2 * h1 * h2 * (2 * h1 ** 2 + 2 * h2 ** 2 + 3 * h1 * h2))) /
      (e1 * h1 + e2 * h2);
    // The stub holds the reference surface, not the middle: the clamp turns about it and stays a clamp.
    expect(Math.abs(displacementAt(patch, u, 0, 0)[2]! / ((load * length ** 3) / (3 * ei)) - 1)).toBeLessThan(0.005);
  });
});

describe('beams on a foundation (VALIDATION A4, Hetenyi 1946 from memory)', () => {
  const [modulus, width, h, bedStiffness, force] = [900, 60, 8, 0.03, 100];
  const ei = (modulus * width * h ** 3) / 12;
  const lam = ((bedStiffness * width) / (4 * ei)) ** 0.25;

  function onBed(length: number, twoSided: boolean, rows = 800) {
    const patch = flatPatch(() => width, evenly(0, length, 40), 2);
    const k = assembleShell(patch, () => isotropic(modulus, 0, 0, h));
    // Three soft springs hold what a foundation without friction leaves free.
    for (const [b, t] of [
      [0, -1],
      [0, 1],
      [length, -1],
    ] as const)
      addSpring(patch, k, b, t, 1e-7);
    const cells = evenCells(patch, rows, 4);
    const n = rows * 4;
    const bed: SpringBed = {
      grid: cells.grid,
      areaMm2: new Float64Array(n).fill((length * width) / n),
      towards: Float64Array.from({ length: 3 * n }, (_, i) => (i % 3 === 2 ? -1 : 0)),
      squeezeMm: new Float64Array(n),
      stiffness: bedStiffness,
      twoSided,
    };
    return { patch, k, bed, ...cells };
  }

  it.each([
    [200, 0.626973, -0.1507587],
    [400, 0.584118, -0.01695655],
  ])('finite beam of %i mm, centre force: middle %f and end %f mm', (length, middle, end) => {
    const { patch, k, bed } = onBed(length, true);
    const { u, residual } = pressShell(
      k,
      bed,
      lineForce(
        patch,
        length / 2,
        UP.map((v) => -force * v),
      ),
    );
    expect(residual).toBeLessThan(1e-8);
    expect(Math.abs(-displacementAt(patch, u, length / 2, 0)[2]! / middle - 1)).toBeLessThan(2e-3);
    expect(-displacementAt(patch, u, 0, 0)[2]! - end).toBeCloseTo(0, 3);
  });

  it.each([10, 100, 400])('tensionless, %i N: contact pi/lambda long at any load, middle 1.0903 x', (load) => {
    const { patch, k, bed, bMm } = onBed(300, false);
    const { u, squeezeMm } = pressShell(k, bed, lineForce(patch, 150, [0, 0, -load]));
    const pressed = bMm.filter((_, i) => squeezeMm[4 * i]! > 0).length;
    expect((pressed * 300) / bMm.length).toBeCloseTo(Math.PI / lam, -0.5);
    const w = ((load * lam) / (2 * bedStiffness * width)) * (1 / Math.tanh(Math.PI / 2));
    expect(Math.abs(-displacementAt(patch, u, 150, 0)[2]! / w - 1)).toBeLessThan(3e-3);
  });
});
