/** `?test` in the address: half the pixels and no smoothing of edges, so that drawing in software keeps up with a test's hand. */
const isTest = new URLSearchParams(window.location.search).has('test');

export const CANVAS_DPR: number | [number, number] = isTest ? 0.5 : [1, 2];
export const CANVAS_GL = Object.freeze({ antialias: !isTest, preserveDrawingBuffer: isTest });
