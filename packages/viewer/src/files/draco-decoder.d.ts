/** The decoder alone; the package's own entry brings the encoder with it. */
declare module 'draco3d/draco_decoder_nodejs.js' {
  const createDecoder: (options: { readonly wasmBinary: ArrayBuffer }) => Promise<unknown>;
  export default createDecoder;
}
