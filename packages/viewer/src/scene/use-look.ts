import { useMemo } from 'react';
import { useDocument, useView } from '../state/hooks.ts';
import { type NearestPoint, nearestPoint } from './build/nearest-point.ts';
import { type Look, lookOf } from './look-of.ts';
import { useBackInView, useBars } from './use-bars.ts';

/** The way of colouring that is chosen, for the bars and the back in view. */
export function useLook(): Look {
  const view = useView((v) => v);
  const limits = useDocument((documents) => documents.setup.limits);
  const points = useBackInView()?.pointsMm ?? null;
  const layers = useBars()?.left.layers ?? null;
  const { colour, clearanceScale, pressureScale, giveEndMm, thicknessEndMm } = view;
  const { squeezeEndMm, squeezeLayer, curvatureEndPerM, curvatureOf, dataEndMm } = view;
  const names = layers?.map(({ name }) => name).join('\n') ?? '';
  return useMemo(
    () =>
      lookOf(
        {
          colour,
          clearanceScale,
          pressureScale,
          giveEndMm,
          thicknessEndMm,
          squeezeEndMm,
          squeezeLayer,
          curvatureEndPerM,
          curvatureOf,
          dataEndMm,
        },
        limits,
        colour === 'data' && points !== null ? indexOf(points) : null,
        names.split('\n'),
      ),
    [
      colour,
      clearanceScale,
      pressureScale,
      giveEndMm,
      thicknessEndMm,
      squeezeEndMm,
      squeezeLayer,
      curvatureEndPerM,
      curvatureOf,
      dataEndMm,
      limits,
      points,
      names,
    ],
  );
}

const indices = new WeakMap<Float32Array, NearestPoint>();

/** Sorted once for each scan, when its points are first asked for. */
function indexOf(points: Float32Array): NearestPoint {
  const known = indices.get(points) ?? nearestPoint(points);
  indices.set(points, known);
  return known;
}
