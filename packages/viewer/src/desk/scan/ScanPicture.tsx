import { useFrame, useThree } from '@react-three/fiber';
import { type RefObject, useEffect, useLayoutEffect, useMemo, useRef } from 'react';
import {
  BufferAttribute,
  BufferGeometry,
  type Camera,
  DoubleSide,
  Matrix4,
  type Mesh,
  Raycaster,
  Vector2,
  Vector3,
} from 'three';
import { type Label, LabelMarks } from '../../scene/Labels.tsx';
import { type Box, Orbit } from '../../scene/Orbit.tsx';
import { SCENE_PALETTES, type ScenePalette } from '../../scene/palette.ts';
import { Studio } from '../../scene/Studio.tsx';
import { useGeometry } from '../../scene/use-geometry.ts';
import type { ViewFrom } from '../../state/view-state.ts';
import type { DrawnMesh } from './drawing-mesh.ts';
import { barLengthMm, type HorseFrame, intoHorse, roundLength, sideMm } from './horse-frame.ts';
import type { Point } from './scan-way.ts';

/** The longest side of every scan in the picture: what changes with the unit is the scale bar. */
const PICTURE_SIDE = 620;
const AIR = 46;
const CLICK_PX = 6;

export interface ScanPictureProps {
  readonly theme: 'light' | 'dark';
  readonly drawn: DrawnMesh;
  readonly takenOut: DrawnMesh | null;
  readonly frame: HorseFrame;
  readonly pins: readonly Point[];
  readonly pinHolder: RefObject<HTMLDivElement | null>;
  readonly labelHolder: RefObject<HTMLDivElement | null>;
  readonly labels: readonly string[];
  readonly from: ViewFrom;
  readonly asked: number;
  /** Finds the point of the drawing under a place of the window, in the file's coordinates. */
  readonly pick: RefObject<((x: number, y: number) => Point | null) | null>;
  /** Null: beside the scan. */
  readonly onTouch: (at: Point | null) => void;
}

export default function ScanPicture(props: ScanPictureProps) {
  const palette = SCENE_PALETTES[props.theme];
  return (
    <Studio palette={palette}>
      <Things {...props} palette={palette} />
    </Studio>
  );
}

function Things(props: ScanPictureProps & { palette: ScenePalette }) {
  const { drawn, takenOut, frame, pins, pinHolder, labelHolder, labels, palette, from, asked, pick, onTouch } = props;
  const { invalidate } = useThree();
  const k = PICTURE_SIDE / sideMm(frame);
  const box = useMemo(() => boxOf(frame, k), [frame, k]);
  const body = useRef<Mesh>(null);
  const matrix = useMemo(() => matrixOf(frame, k), [frame, k]);
  // biome-ignore lint/correctness/useExhaustiveDependencies: any of these changes the picture
  useEffect(() => invalidate(), [drawn, takenOut, frame, palette, pins, invalidate]);
  usePick(body, drawn, pick, onTouch);
  const words = useMemo(() => crossLabels(box, frame, k, labels), [box, frame, k, labels]);
  return (
    <>
      <Orbit
        from={from}
        asked={asked + 1000 * useChanges(box)}
        box={roomFor(box, from)}
        still={false}
        onUnder={NOTHING}
      />
      <Surface mesh={drawn} matrix={matrix} colour={palette.clay} bodyRef={body} />
      {takenOut !== null && takenOut.triangles.length > 0 && (
        <Surface mesh={takenOut} matrix={matrix} colour={TAKEN_OUT} isInFront />
      )}
      <Ground box={box} stepMm={roundLength(sideMm(frame) / 6)} k={k} colour={palette.clayDeep} />
      <Lines box={box} colour={palette.ghost} barLength={barLengthMm(frame) * k} />
      <LabelMarks labels={words} holder={labelHolder} colour={palette.accent} />
      <PinPlaces pins={pins} holder={pinHolder} frame={frame} drawn={drawn} k={k} />
    </>
  );
}

const NOTHING = (): void => undefined;
/** Plum, as squeeze is: what is not to be counted on. */
const TAKEN_OUT = '#8a3483';

/** From a corner the words at the arrows' ends want more room than the box itself. */
function roomFor({ min, max }: Box, from: ViewFrom): Box {
  const wider = from === 'three-quarter' ? 1.34 : 1.06;
  return {
    min: [wider * min[0], wider * min[1], min[2] - 20],
    max: [wider * max[0], wider * max[1], max[2] + 1.5 * OVER],
  };
}

/** Counts up when the picture's box becomes another one, so that the camera steps to where all of it is seen. */
function useChanges(box: Box): number {
  const key = [...box.min, ...box.max].map((value) => Math.round(value / 30)).join();
  const seen = useRef({ key, count: 0 });
  if (seen.current.key !== key) seen.current = { key, count: seen.current.count + 1 };
  return seen.current.count;
}

function boxOf({ min, max }: HorseFrame, k: number): Box {
  const half = k * Math.max(Math.abs(min[1]), Math.abs(max[1]));
  return { min: [k * min[0] - AIR, -half - AIR, 0], max: [k * max[0] + AIR, half + AIR, k * max[2]] };
}

function matrixOf({ rows, shiftMm }: HorseFrame, k: number): Matrix4 {
  const r = rows.map((value) => k * value);
  const [x, y, z] = shiftMm.map((value) => k * value);
  return new Matrix4().set(r[0]!, r[1]!, r[2]!, x!, r[3]!, r[4]!, r[5]!, y!, r[6]!, r[7]!, r[8]!, z!, 0, 0, 0, 1);
}

let surfaces = 0;

function Surface({
  mesh,
  matrix,
  colour,
  isInFront = false,
  bodyRef,
}: {
  mesh: DrawnMesh;
  matrix: Matrix4;
  colour: string;
  isInFront?: boolean;
  bodyRef?: RefObject<Mesh | null>;
}) {
  const key = useMemo(() => `${++surfaces} ${mesh.positions.length}`, [mesh]);
  const geometry = useGeometry(key, () => {
    const made = new BufferGeometry();
    made.setAttribute('position', new BufferAttribute(mesh.positions, 3));
    made.setAttribute('normal', new BufferAttribute(mesh.normals, 3));
    made.setIndex(new BufferAttribute(mesh.triangles, 1));
    return made;
  });
  return (
    <mesh geometry={geometry} matrix={matrix} matrixAutoUpdate={false} ref={bodyRef ?? null}>
      <meshStandardMaterial
        color={colour}
        roughness={1}
        metalness={0}
        side={DoubleSide}
        polygonOffset
        polygonOffsetFactor={isInFront ? -2 : 1}
        polygonOffsetUnits={isInFront ? -40 : 10}
      />
    </mesh>
  );
}

/** A touch without a turn of the view. */
function usePick(
  body: RefObject<Mesh | null>,
  drawn: DrawnMesh,
  pick: ScanPictureProps['pick'],
  onTouch: (at: Point | null) => void,
): void {
  const { camera, gl } = useThree();
  const told = useRef(onTouch);
  told.current = onTouch;
  useLayoutEffect(() => {
    const ray = new Raycaster();
    const at = new Vector2();
    const canvas = gl.domElement;
    const find = (x: number, y: number): Point | null => {
      const place = canvas.getBoundingClientRect();
      at.set(((x - place.left) / place.width) * 2 - 1, 1 - ((y - place.top) / place.height) * 2);
      const mesh = body.current;
      if (mesh === null) return null;
      mesh.updateWorldMatrix(true, false);
      ray.setFromCamera(at, camera);
      const hit = ray.intersectObject(mesh, false)[0];
      if (hit === undefined) return null;
      const p = mesh.worldToLocal(hit.point.clone());
      return [p.x + drawn.centre[0], p.y + drawn.centre[1], p.z + drawn.centre[2]];
    };
    pick.current = find;
    let down: { x: number; y: number } | null = null;
    const pressed = (event: PointerEvent): void => {
      down = event.isPrimary && event.button === 0 ? { x: event.clientX, y: event.clientY } : null;
    };
    const released = (event: PointerEvent): void => {
      if (down === null || Math.hypot(event.clientX - down.x, event.clientY - down.y) > CLICK_PX) return;
      told.current(find(event.clientX, event.clientY));
    };
    canvas.addEventListener('pointerdown', pressed);
    canvas.addEventListener('pointerup', released);
    return () => {
      pick.current = null;
      canvas.removeEventListener('pointerdown', pressed);
      canvas.removeEventListener('pointerup', released);
    };
  }, [body, camera, drawn, gl, pick]);
}

function Ground({ box, stepMm, k, colour }: { box: Box; stepMm: number; k: number; colour: string }) {
  const { min, max } = box;
  const step = k * stepMm;
  const geometry = useGeometry([...min, ...max, step].map((value) => value.toFixed(1)).join(), () => {
    const points: number[] = [];
    for (let x = Math.ceil(min[0] / step) * step; x <= max[0]; x += step) points.push(x, min[1], 0, x, max[1], 0);
    for (let y = Math.ceil(min[1] / step) * step; y <= max[1]; y += step) points.push(min[0], y, 0, max[0], y, 0);
    return linesOf(points);
  });
  return (
    <lineSegments geometry={geometry}>
      <lineBasicMaterial color={colour} transparent opacity={0.45} />
    </lineSegments>
  );
}

function linesOf(points: readonly number[]): BufferGeometry {
  const made = new BufferGeometry();
  made.setAttribute('position', new BufferAttribute(Float32Array.from(points), 3));
  return made;
}

/** How far above the scan the midplane and the arrow up end. */
const OVER = 40;
const ARROW = { wide: 5, long: 18 } as const;

/** The horse's directions along the ground's near edge, the midplane as an outline, and the scale bar. */
function Lines({ box, colour, barLength }: { box: Box; colour: string; barLength: number }) {
  const { min, max } = box;
  const top = max[2] + OVER;
  const key = [...min, ...max].map((value) => value.toFixed(1)).join();
  const cross = useGeometry(key, () =>
    linesOf([
      ...[min[0], min[1], 0, max[0], min[1], 0],
      ...[min[0], min[1], 0, min[0], max[1], 0],
      ...[min[0], min[1], 0, min[0], min[1], top],
    ]),
  );
  const plane = useGeometry(key, () =>
    linesOf([
      ...[min[0], 0, 0, max[0], 0, 0],
      ...[max[0], 0, 0, max[0], 0, top],
      ...[max[0], 0, top, min[0], 0, top],
      ...[min[0], 0, top, min[0], 0, 0],
    ]),
  );
  return (
    <group>
      <lineSegments geometry={cross}>
        <lineBasicMaterial color={colour} />
      </lineSegments>
      <lineSegments geometry={plane}>
        <lineBasicMaterial color={colour} transparent opacity={0.7} />
      </lineSegments>
      <Tip at={[min[0], min[1], 0]} turn={[0, 0, Math.PI / 2]} colour={colour} />
      <Tip at={[max[0], min[1], 0]} turn={[0, 0, -Math.PI / 2]} colour={colour} />
      <Tip at={[min[0], max[1], 0]} turn={[0, 0, 0]} colour={colour} />
      <Tip at={[min[0], min[1], top]} turn={[Math.PI / 2, 0, 0]} colour={colour} />
      <mesh position={[max[0] - barLength / 2 - AIR, min[1] + AIR / 3, 1.5]}>
        <boxGeometry args={[barLength, 5, 3]} />
        <meshBasicMaterial color={colour} />
      </mesh>
    </group>
  );
}

function Tip({ at, turn, colour }: { at: Point; turn: Point; colour: string }) {
  return (
    <mesh position={[at[0], at[1], at[2]]} rotation={[turn[0], turn[1], turn[2]]}>
      <coneGeometry args={[ARROW.wide, ARROW.long, 12]} />
      <meshBasicMaterial color={colour} />
    </mesh>
  );
}

function crossLabels({ min, max }: Box, frame: HorseFrame, k: number, words: readonly string[]): Label[] {
  const barLength = k * barLengthMm(frame);
  const places: Point[] = [
    [min[0], min[1] - 16, 0],
    [max[0] - 16, min[1] - 16, 0],
    [min[0], max[1] + 12, 0],
    [min[0], min[1], max[2] + OVER + 12],
    [max[0] - barLength - AIR, min[1] + AIR / 3 - 14, 0],
  ];
  return words.map((text, i) => ({ id: `cross ${i}`, text, at: places[i]!, isBare: true }));
}

const place = new Vector3();
const toEye = new Vector3();
/** A ridge turns away on one side of it only: its pins are in sight. */
const BEHIND = -0.3;

/** Which way the surface looks at a point of it, in the picture: a back looks up. */
function outwardAt(pin: Point, { rows }: HorseFrame, { centre, positions, normals }: DrawnMesh): Vector3 {
  let at = 0;
  let least = Number.POSITIVE_INFINITY;
  for (let i = 0; i < positions.length; i += 3) {
    const away =
      (positions[i]! + centre[0] - pin[0]) ** 2 +
      (positions[i + 1]! + centre[1] - pin[1]) ** 2 +
      (positions[i + 2]! + centre[2] - pin[2]) ** 2;
    if (away >= least) continue;
    least = away;
    at = i;
  }
  const [x, y, z] = normals.subarray(at, at + 3) as unknown as [number, number, number];
  const turned = [0, 3, 6].map((r) => rows[r]! * x + rows[r + 1]! * y + rows[r + 2]! * z) as [number, number, number];
  return new Vector3(...turned).normalize().multiplyScalar(turned[2] < 0 ? -1 : 1);
}

/** From the file's coordinates, less the drawing's centre, to the picture's -1..1: for whoever drives the page by program. */
const eyeText = (camera: Camera, body: Matrix4): string =>
  eye.multiplyMatrices(camera.projectionMatrix, camera.matrixWorldInverse).multiply(body).elements.join(' ');

const eye = new Matrix4();

/** Moves the pins, which are buttons over the picture, with every frame that is drawn. */
function PinPlaces({
  pins,
  holder,
  frame,
  drawn,
  k,
}: {
  pins: readonly Point[];
  holder: RefObject<HTMLDivElement | null>;
  frame: HorseFrame;
  drawn: DrawnMesh;
  k: number;
}) {
  const { camera, size } = useThree();
  const outward = useMemo(() => pins.map((pin) => outwardAt(pin, frame, drawn)), [pins, frame, drawn]);
  useFrame(() => {
    if (holder.current !== null) holder.current.dataset.eye = eyeText(camera, matrixOf(frame, k));
    pins.forEach((pin, i) => {
      const button = holder.current?.children[i] as HTMLElement | undefined;
      if (button === undefined) return;
      const [x, y, z] = intoHorse(frame, drawn.centre, pin);
      place.set(k * x, k * y, k * z);
      const isBehind = toEye.copy(camera.position).sub(place).normalize().dot(outward[i]!) < BEHIND;
      place.project(camera);
      const [left, top] = [((place.x + 1) / 2) * size.width, ((1 - place.y) / 2) * size.height];
      const isSeen = place.z < 1 && left > 0 && top > 0 && left < size.width && top < size.height;
      button.style.visibility = isSeen ? 'visible' : 'hidden';
      button.style.transform = `translate(${left.toFixed(1)}px, ${top.toFixed(1)}px)`;
      button.classList.toggle('scan-pin-behind', isBehind);
      button.classList.toggle('scan-pin-leftwards', left > size.width - 140);
    });
  });
  return null;
}
