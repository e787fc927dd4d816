import { SETUP_DEFAULTS } from '@barwright/geometry';
import { expect, it } from 'vitest';
import { editSetup } from './editor.ts';

it('a layer gives by one thing: a material chosen on the bench takes the place of the stiffness, and back', () => {
  const foam = editSetup(SETUP_DEFAULTS, 'layers.1.material', 'closed-cell foam');
  if (!foam.ok) throw new Error('refused');
  expect(foam.value.layers[1]).toEqual({ name: 'pad', thicknessMm: 20, material: 'closed-cell foam' });
  const back = editSetup(foam.value, 'layers.1.stiffnessKPaPerMm', 2.5);
  expect(back).toEqual({ ok: true, value: SETUP_DEFAULTS });
  expect(editSetup(SETUP_DEFAULTS, 'layers.1.material', 'no such foam')).toMatchObject({
    ok: false,
    error: { code: 'unknown-name' },
  });
});
