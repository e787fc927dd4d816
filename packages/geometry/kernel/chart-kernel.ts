// AssemblyScript, compiled by scripts/build-kernel.mjs to src/spatial/wasm-chart-bytes.ts. Four points at a time.
// Same chart and same foot as src/spatial/evaluate-chart.ts, in single precision with two Gauss-Newton steps.

/** Last evaluated slopes and height, and which lanes are on the data. The caller keeps 16 bytes free behind the chart. */
let fu: v128 = f32x4.splat(0);
let fv: v128 = f32x4.splat(0);
let f: v128 = f32x4.splat(0);
let ok: v128 = i32x4.splat(-1);

let coefficients: usize = 0;
let stencilOk: usize = 0;
let columns: i32 = 0;
let lastU: v128 = f32x4.splat(0);
let lastV: v128 = f32x4.splat(0);
let perCell: v128 = f32x4.splat(1);

/** Height and slopes at grid coordinates (gu, gv); lanes off the data lose their `ok` and get any finite answer. */
function evaluate(gu: v128, gv: v128): void {
  const half = f32x4.splat(0.5);
  const inside = v128.and(
    v128.and(f32x4.ge(gu, half), f32x4.lt(gu, lastU)),
    v128.and(f32x4.ge(gv, half), f32x4.lt(gv, lastV)),
  );
  ok = v128.and(ok, inside);
  const one = f32x4.splat(1);
  const cu = v128.bitselect(gu, one, inside);
  const cv = v128.bitselect(gv, one, inside);
  const i = i32x4.trunc_sat_f32x4_s(f32x4.add(cu, half));
  const j = i32x4.trunc_sat_f32x4_s(f32x4.add(cv, half));
  const p = f32x4.sub(cu, f32x4.convert_i32x4_s(i));
  const q = f32x4.sub(cv, f32x4.convert_i32x4_s(j));
  const at = i32x4.add(i32x4.mul(i, i32x4.splat(columns)), j);
  const a0 = i32x4.extract_lane(at, 0);
  const a1 = i32x4.extract_lane(at, 1);
  const a2 = i32x4.extract_lane(at, 2);
  const a3 = i32x4.extract_lane(at, 3);
  const has = i32x4(
    <i32>load<u8>(stencilOk + a0),
    <i32>load<u8>(stencilOk + a1),
    <i32>load<u8>(stencilOk + a2),
    <i32>load<u8>(stencilOk + a3),
  );
  ok = v128.and(ok, i32x4.ne(has, i32x4.splat(0)));

  const q0 = f32x4.mul(half, f32x4.mul(f32x4.sub(half, q), f32x4.sub(half, q)));
  const q1 = f32x4.sub(f32x4.splat(0.75), f32x4.mul(q, q));
  const q2 = f32x4.mul(half, f32x4.mul(f32x4.add(half, q), f32x4.add(half, q)));
  const e0 = f32x4.sub(q, half);
  const e1 = f32x4.mul(f32x4.splat(-2), q);
  const e2 = f32x4.add(q, half);
  const p0 = f32x4.mul(half, f32x4.mul(f32x4.sub(half, p), f32x4.sub(half, p)));
  const p1 = f32x4.sub(f32x4.splat(0.75), f32x4.mul(p, p));
  const p2 = f32x4.mul(half, f32x4.mul(f32x4.add(half, p), f32x4.add(half, p)));
  const d0 = f32x4.sub(p, half);
  const d1 = f32x4.mul(f32x4.splat(-2), p);
  const d2 = f32x4.add(p, half);

  // Three rows of four coefficients per point, turned so that one vector holds the same node of all four points.
  const next = (<usize>columns) << 2;
  let base0 = coefficients + ((<usize>(a0 - columns - 1)) << 2);
  let base1 = coefficients + ((<usize>(a1 - columns - 1)) << 2);
  let base2 = coefficients + ((<usize>(a2 - columns - 1)) << 2);
  let base3 = coefficients + ((<usize>(a3 - columns - 1)) << 2);
  let l0 = v128.load(base0);
  let l1 = v128.load(base1);
  let l2 = v128.load(base2);
  let l3 = v128.load(base3);
  let t0 = v128.shuffle<f32>(l0, l1, 0, 4, 1, 5);
  let t1 = v128.shuffle<f32>(l2, l3, 0, 4, 1, 5);
  let c0 = v128.shuffle<f32>(t0, t1, 0, 1, 4, 5);
  let c1 = v128.shuffle<f32>(t0, t1, 2, 3, 6, 7);
  let c2 = v128.shuffle<f32>(v128.shuffle<f32>(l0, l1, 2, 6, 2, 6), v128.shuffle<f32>(l2, l3, 2, 6, 2, 6), 0, 1, 4, 5);
  let r = f32x4.add(f32x4.add(f32x4.mul(q0, c0), f32x4.mul(q1, c1)), f32x4.mul(q2, c2));
  let t = f32x4.add(f32x4.add(f32x4.mul(e0, c0), f32x4.mul(e1, c1)), f32x4.mul(e2, c2));
  let height = f32x4.mul(p0, r);
  let slopeU = f32x4.mul(d0, r);
  let slopeV = f32x4.mul(p0, t);
  base0 += next;
  base1 += next;
  base2 += next;
  base3 += next;
  l0 = v128.load(base0);
  l1 = v128.load(base1);
  l2 = v128.load(base2);
  l3 = v128.load(base3);
  t0 = v128.shuffle<f32>(l0, l1, 0, 4, 1, 5);
  t1 = v128.shuffle<f32>(l2, l3, 0, 4, 1, 5);
  c0 = v128.shuffle<f32>(t0, t1, 0, 1, 4, 5);
  c1 = v128.shuffle<f32>(t0, t1, 2, 3, 6, 7);
  c2 = v128.shuffle<f32>(v128.shuffle<f32>(l0, l1, 2, 6, 2, 6), v128.shuffle<f32>(l2, l3, 2, 6, 2, 6), 0, 1, 4, 5);
  r = f32x4.add(f32x4.add(f32x4.mul(q0, c0), f32x4.mul(q1, c1)), f32x4.mul(q2, c2));
  t = f32x4.add(f32x4.add(f32x4.mul(e0, c0), f32x4.mul(e1, c1)), f32x4.mul(e2, c2));
  height = f32x4.add(height, f32x4.mul(p1, r));
  slopeU = f32x4.add(slopeU, f32x4.mul(d1, r));
  slopeV = f32x4.add(slopeV, f32x4.mul(p1, t));
  base0 += next;
  base1 += next;
  base2 += next;
  base3 += next;
  l0 = v128.load(base0);
  l1 = v128.load(base1);
  l2 = v128.load(base2);
  l3 = v128.load(base3);
  t0 = v128.shuffle<f32>(l0, l1, 0, 4, 1, 5);
  t1 = v128.shuffle<f32>(l2, l3, 0, 4, 1, 5);
  c0 = v128.shuffle<f32>(t0, t1, 0, 1, 4, 5);
  c1 = v128.shuffle<f32>(t0, t1, 2, 3, 6, 7);
  c2 = v128.shuffle<f32>(v128.shuffle<f32>(l0, l1, 2, 6, 2, 6), v128.shuffle<f32>(l2, l3, 2, 6, 2, 6), 0, 1, 4, 5);
  r = f32x4.add(f32x4.add(f32x4.mul(q0, c0), f32x4.mul(q1, c1)), f32x4.mul(q2, c2));
  t = f32x4.add(f32x4.add(f32x4.mul(e0, c0), f32x4.mul(e1, c1)), f32x4.mul(e2, c2));
  height = f32x4.add(height, f32x4.mul(p2, r));
  slopeU = f32x4.add(slopeU, f32x4.mul(d2, r));
  slopeV = f32x4.add(slopeV, f32x4.mul(p2, t));
  f = height;
  fu = f32x4.mul(slopeU, perCell);
  fv = f32x4.mul(slopeV, perCell);
}

let stepV: v128 = f32x4.splat(0);

/** Gauss-Newton step of the foot: its u, and its v in stepV. */
function stepFrom(u: v128, v: v128, w: v128, a: v128, b: v128): v128 {
  const one = f32x4.splat(1);
  const r = f32x4.sub(w, f);
  const slopeU = f32x4.add(f32x4.sub(u, a), f32x4.mul(r, fu));
  const slopeV = f32x4.add(f32x4.sub(v, b), f32x4.mul(r, fv));
  const uu = f32x4.add(one, f32x4.mul(fu, fu));
  const vv = f32x4.add(one, f32x4.mul(fv, fv));
  const uv = f32x4.mul(fu, fv);
  const perG = f32x4.div(one, f32x4.add(uu, f32x4.mul(fv, fv)));
  stepV = f32x4.mul(perG, f32x4.sub(f32x4.mul(uu, slopeV), f32x4.mul(uv, slopeU)));
  return f32x4.mul(perG, f32x4.sub(f32x4.mul(vv, slopeU), f32x4.mul(uv, slopeV)));
}

/**
 * n points (a multiple of 4) given as x, y, z columns of f32 at `points`. Writes eight columns at `out`: distance, foot
 * x y z, normal x y z, and 1 or 0 for data. Coordinates are relative to (u0, 0, 0) along x, in mm.
 */
export function feet(
  chart: usize,
  okAt: usize,
  nu: i32,
  nv: i32,
  v0: f32,
  cell: f32,
  c: f32,
  s: f32,
  points: usize,
  n: i32,
  out: usize,
): void {
  coefficients = chart;
  stencilOk = okAt;
  columns = nv;
  lastU = f32x4.splat(<f32>nu - 1.5);
  lastV = f32x4.splat(<f32>nv - 1.5);
  perCell = f32x4.splat(1 / cell);
  const column = (<usize>n) << 2;
  const cos = f32x4.splat(c);
  const sin = f32x4.splat(s);
  const start = f32x4.splat(v0);
  const one = f32x4.splat(1);
  for (let k: usize = 0; k < column; k += 16) {
    const u = v128.load(points + k);
    const y = v128.load(points + column + k);
    const z = v128.load(points + 2 * column + k);
    const v = f32x4.sub(f32x4.mul(cos, y), f32x4.mul(sin, z));
    const w = f32x4.add(f32x4.mul(sin, y), f32x4.mul(cos, z));
    let a = u;
    let b = v;
    ok = i32x4.splat(-1);
    evaluate(f32x4.mul(a, perCell), f32x4.mul(f32x4.sub(b, start), perCell));
    const first = stepFrom(u, v, w, a, b);
    a = f32x4.add(a, first);
    b = f32x4.add(b, stepV);
    evaluate(f32x4.mul(a, perCell), f32x4.mul(f32x4.sub(b, start), perCell));
    const root = f32x4.div(one, f32x4.sqrt(f32x4.add(f32x4.add(one, f32x4.mul(fu, fu)), f32x4.mul(fv, fv))));
    // The distance is stationary at the foot, so it is taken here; the second step only betters the foot itself.
    const d = f32x4.mul(
      root,
      f32x4.sub(f32x4.sub(f32x4.sub(w, f), f32x4.mul(f32x4.sub(u, a), fu)), f32x4.mul(f32x4.sub(v, b), fv)),
    );
    const second = stepFrom(u, v, w, a, b);
    a = f32x4.add(a, second);
    b = f32x4.add(b, stepV);
    f = f32x4.add(f, f32x4.add(f32x4.mul(fu, second), f32x4.mul(fv, stepV)));
    v128.store(out + k, d);
    v128.store(out + column + k, a);
    v128.store(out + 2 * column + k, f32x4.add(f32x4.mul(cos, b), f32x4.mul(sin, f)));
    v128.store(out + 3 * column + k, f32x4.sub(f32x4.mul(cos, f), f32x4.mul(sin, b)));
    v128.store(out + 4 * column + k, f32x4.mul(f32x4.neg(fu), root));
    v128.store(out + 5 * column + k, f32x4.mul(f32x4.sub(sin, f32x4.mul(cos, fv)), root));
    v128.store(out + 6 * column + k, f32x4.mul(f32x4.add(cos, f32x4.mul(sin, fv)), root));
    v128.store(out + 7 * column + k, v128.and(ok, one));
  }
}
