export { type DracoModule, dracoDecoder } from './draco-decoder.ts';
export { type GlbDecoders, type GlbPacking, packedFormats, type UnpackedMesh } from './glb-decoders.ts';
export { MAX_COORDINATE, type MeshFormat, type RawMesh, READ_LIMITS, type ReadLimits } from './raw-mesh.ts';
export { read3mf } from './read-3mf.ts';
export { readGlb } from './read-glb.ts';
export { readMesh } from './read-mesh.ts';
export { readObj } from './read-obj.ts';
export { readPly } from './read-ply.ts';
export { readStl } from './read-stl.ts';
export {
  type ReadTracings,
  readTracingsCsv,
  TRACINGS_LIMITS,
  type TracingsFileOptions,
} from './read-tracings-csv.ts';
export { readTracingsSvg } from './read-tracings-svg.ts';
export { readXyz } from './read-xyz.ts';
export { type WriteObjOptions, writeObj } from './write-obj.ts';
export { type WritePlyOptions, writePly } from './write-ply.ts';
export { type WriteStlOptions, writeStl } from './write-stl.ts';
