import { type Arc, arcHeight, fitArc } from './measure-arc.ts';
import { findDeparture, growArc } from './measure-grow-arc.ts';
import type { BarSection, BarSurface } from './measure-surface.ts';

/** A section without its relief: the arc that its middle follows, continued to both edges. mm, outward y. */
export interface BareSection {
  readonly innerYMm: number;
  readonly outerYMm: number;
  readonly reliefInnerYMm: number;
  readonly reliefOuterYMm: number;
  readonly reliefDepthInnerMm: number;
  readonly reliefDepthOuterMm: number;
  readonly arc: Arc;
  /** Root mean square distance of the points used from the arc. */
  readonly residualMm: number;
}

export interface BareOptions {
  /** Share of the width, on each side, that is relieved; found from the shape when left out. */
  readonly reliefFraction?: number;
  /** Points further than this from the arc of the middle belong to the relief (or to a flare, lengthwise). */
  readonly toleranceMm: number;
}

/** Distance beyond which the surface counts as having left its arc, mm. */
export const BARE_DEFAULTS = Object.freeze({ toleranceMm: 0.01 });

/** The section at a station without relief; null where there is none, or its middle follows no arc that reaches both edges. */
export function bareSectionAt(surface: BarSurface, bMm: number, options: BareOptions): BareSection | null {
  const section = surface.section(bMm);
  if (section === null) return null;
  const bare = bareOf(surface, bMm, section, options);
  const reaches = bare !== null && Number.isFinite(bare.reliefDepthInnerMm + bare.reliefDepthOuterMm);
  return reaches ? bare : null;
}

function bareOf(surface: BarSurface, bMm: number, section: BarSection, options: BareOptions): BareSection | null {
  if (surface.known !== null) return fromKnown(surface, bMm, section);
  return options.reliefFraction === undefined
    ? detect(section, options.toleranceMm)
    : fromFraction(section, options.reliefFraction);
}

function fromKnown(surface: BarSurface, bMm: number, section: BarSection): BareSection | null {
  const known = surface.known;
  const bare = known?.bareSection(bMm) ?? null;
  if (known === null || bare === null) return null;
  const fit = fitArc(bare.yMm, bare.zMm, 0, bare.yMm.length - 1);
  if (fit === null) return null;
  const [reliefInnerYMm, reliefOuterYMm] = known.reliefEndsYMm(bMm);
  const lift = known.flareLiftMm(bMm);
  const last = section.zMm.length - 1;
  return {
    innerYMm: section.innerYMm,
    outerYMm: section.outerYMm,
    reliefInnerYMm,
    reliefOuterYMm,
    reliefDepthInnerMm: section.zMm[0] - lift - bare.zMm[0],
    reliefDepthOuterMm: section.zMm[last] - lift - bare.zMm[last],
    arc: fit.arc,
    residualMm: fit.rmsMm,
  };
}

function fromFraction(section: BarSection, fraction: number): BareSection | null {
  const { innerYMm, outerYMm, yMm, zMm } = section;
  const strip = fraction * (outerYMm - innerYMm);
  const slack = 1e-9 * (outerYMm - innerYMm);
  const from = yMm.findIndex((y) => y >= innerYMm + strip - slack);
  const beyond = yMm.findIndex((y) => y > outerYMm - strip + slack);
  const to = beyond < 0 ? yMm.length - 1 : beyond - 1;
  const fit = fitArc(yMm, zMm, from, to);
  if (fit === null) return null;
  return {
    innerYMm,
    outerYMm,
    reliefInnerYMm: innerYMm + strip,
    reliefOuterYMm: outerYMm - strip,
    reliefDepthInnerMm: zMm[0] - arcHeight(fit.arc, yMm[0]),
    reliefDepthOuterMm: zMm[zMm.length - 1] - arcHeight(fit.arc, yMm[yMm.length - 1]),
    arc: fit.arc,
    residualMm: fit.rmsMm,
  };
}

function detect({ innerYMm, outerYMm, yMm, zMm }: BarSection, toleranceMm: number): BareSection | null {
  const grown = growArc(yMm, zMm, toleranceMm);
  if (grown === null) return null;
  const inner = findDeparture(yMm, zMm, grown, -1, grown.toleranceMm);
  const outer = findDeparture(yMm, zMm, grown, 1, grown.toleranceMm);
  return {
    innerYMm,
    outerYMm,
    reliefInnerYMm: inner.startMm,
    reliefOuterYMm: outer.startMm,
    reliefDepthInnerMm: inner.liftMm,
    reliefDepthOuterMm: outer.liftMm,
    arc: grown.arc,
    residualMm: grown.rmsMm,
  };
}
