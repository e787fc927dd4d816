import { DoubleSide, MeshBasicMaterial } from 'three';

/**
 * Map colours exactly as they are on the ruler: no light falls on them. `known` 0 is hatched (no data), `bearing` 0 is left
 * out (stirrup slot).
 */
export function createUndersideMaterial(): MeshBasicMaterial {
  const material = new MeshBasicMaterial({
    vertexColors: true,
    side: DoubleSide,
    polygonOffset: true,
    polygonOffsetFactor: 2,
    polygonOffsetUnits: 4,
  });
  material.onBeforeCompile = (shader) => {
    shader.vertexShader = shader.vertexShader
      .replace(
        '#include <common>',
        '#include <common>\nattribute float known;\nattribute float bearing;\nvarying float vKnown;\nvarying float vBearing;',
      )
      .replace('#include <begin_vertex>', '#include <begin_vertex>\nvKnown = known;\nvBearing = bearing;');
    shader.fragmentShader = shader.fragmentShader
      .replace('#include <common>', '#include <common>\nvarying float vKnown;\nvarying float vBearing;')
      .replace(
        '#include <color_fragment>',
        `if (vBearing < 0.5) discard;
        #include <color_fragment>
        if (vKnown < 0.5) {
          float stripe = step(0.5, fract((gl_FragCoord.x + gl_FragCoord.y) / 7.0));
          diffuseColor.rgb = mix(vec3(0.34), vec3(0.62), stripe);
        }`,
      );
  };
  return material;
}
