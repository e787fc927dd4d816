import { anyOf, boolean, fields, type JsonSchema, list, nothing, number, orNull, text } from './json-schema.ts';

const value = anyOf(number, text, boolean, nothing);
const values: JsonSchema = { type: 'object', additionalProperties: value };
const corner = list(number, 3);

export const checkResultSchema: JsonSchema = fields({
  kind: { enum: ['pattern', 'back', 'setup', 'riding', 'rider', 'shelf', 'lesson', 'bench', 'mesh'] },
  documentSchema: orNull(text),
  name: text,
  /** Every value as a number in its own unit, by its name. */
  values,
  differences: list(
    fields({
      key: text,
      side: { enum: ['both', 'left', 'right'] },
      unit: text,
      value,
      parentValue: value,
      delta: orNull(number),
    }),
  ),
  mesh: orNull(
    fields({
      format: { enum: ['ply', 'stl', 'obj', 'glb', '3mf', 'xyz'] },
      kind: { enum: ['mesh', 'points'] },
      vertices: number,
      triangles: number,
      hasColours: boolean,
      lowestCorner: corner,
      highestCorner: corner,
      medianEdge: orNull(number),
      pointSpacing: orNull(number),
      boundaryEdges: number,
    }),
  ),
});
