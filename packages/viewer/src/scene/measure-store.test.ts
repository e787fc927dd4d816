import { beforeEach, describe, expect, test } from 'vitest';
import { FIRST_DOCUMENTS } from '../files/demos.ts';
import { documentStore, viewStore } from '../state/stores.ts';
import { measureStore, partsOf, removeDistance, setMeasuring, takePoint } from './measure-store.ts';

describe('measured distances', () => {
  beforeEach(() => {
    measureStore.setState({ isOn: false, from: null });
    viewStore.setState({ distances: [] });
    documentStore.setState({ back: FIRST_DOCUMENTS.back });
  });

  test('of a box of 3, 4 and 12: 13 straight, and its parts with their signs', () => {
    expect(partsOf({ from: [10, -2, 5], to: [13, -6, 17] })).toEqual({
      straightMm: 13,
      alongMm: 3,
      acrossMm: -4,
      upMm: 12,
    });
  });

  test('two points make one; leaving off forgets a first point alone; one is removed and the others stay', () => {
    takePoint([0, 0, 0]);
    setMeasuring(true);
    takePoint([1, 0, 0]);
    takePoint([2, 0, 0]);
    takePoint([0, 0, 0]);
    takePoint([0, 5, 0]);
    expect(viewStore.getState().distances.map((d) => partsOf(d).straightMm)).toEqual([1, 5]);
    removeDistance(1);
    expect(viewStore.getState().distances.map((d) => d.id)).toEqual([2]);
    takePoint([0, 0, 0]);
    takePoint([0, 0, 7]);
    expect(viewStore.getState().distances.map((d) => d.id)).toEqual([2, 3]);
  });
});
