import ts from 'typescript';

/** Attributes whose value is a name or a drawing instruction, never read by anyone. */
const NOT_READ = new Set([
  'className',
  'd',
  'points',
  'transform',
  'viewBox',
  'strokeDasharray',
  'preserveAspectRatio',
  'style',
  'fontFamily',
  'href',
  'src',
  'accept',
  'type',
  'role',
  'rel',
  'id',
  'htmlFor',
  'aria-labelledby',
  'aria-describedby',
  'aria-controls',
]);

/** Attributes that are read out or shown whatever their text looks like. */
const READ = new Set([
  'title',
  'aria-label',
  'aria-roledescription',
  'aria-valuetext',
  'placeholder',
  'alt',
  'label',
  'says',
]);

/** Style sheets, selectors, drawings, shaders, media queries and fonts: texts for a machine. */
const FOR_A_MACHINE = /^\(prefers-|^@page|^svg\{|^<|^\.[\w-]+ |\[(type|role)=|#include|gradient\(|sans-serif/;

const WORD = /\p{L}{2,}/u;
const SENTENCE = /\p{L}{2,}[,.:;]? +\p{L}/u;

const attributeOf = (node: ts.Node): string | null => {
  for (let at = node; at.parent; at = at.parent) {
    if (ts.isJsxAttribute(at)) return at.name.getText();
    if (ts.isJsxElement(at) || ts.isJsxFragment(at) || ts.isArrowFunction(at)) return null;
  }
  return null;
};

const isChild = (node: ts.Node): boolean => {
  let at = node.parent;
  while (ts.isConditionalExpression(at) || ts.isParenthesizedExpression(at) || ts.isBinaryExpression(at))
    at = at.parent;
  return ts.isJsxExpression(at) && !ts.isJsxAttribute(at.parent);
};

const isOperand = (node: ts.Node): boolean => {
  const above = node.parent;
  if (ts.isConditionalExpression(above)) return above.condition === node;
  return ts.isBinaryExpression(above) && /^([=!]==?|in)$/.test(above.operatorToken.getText());
};

const isName = (node: ts.Node): boolean =>
  ts.isImportDeclaration(node.parent) ||
  ts.isExportDeclaration(node.parent) ||
  ts.isLiteralTypeNode(node.parent) ||
  (ts.isPropertyAssignment(node.parent) && node.parent.name === node) ||
  ts.isElementAccessExpression(node.parent);

/** Whether a text of the source is read on the page: words between tags, in a read attribute, or a sentence anywhere. */
function isRead(node: ts.Node, text: string): boolean {
  if (isName(node) || isOperand(node) || FOR_A_MACHINE.test(text)) return false;
  const attribute = attributeOf(node);
  if (attribute !== null && NOT_READ.has(attribute)) return false;
  if (attribute !== null && READ.has(attribute)) return WORD.test(text);
  return isChild(node) ? WORD.test(text) : SENTENCE.test(text);
}

/** Texts that one source file (TSX or TS) shows by itself rather than out of the dictionary, as `line: text`. */
export function inlineTexts(name: string, source: string): string[] {
  const kind = name.endsWith('x') ? ts.ScriptKind.TSX : ts.ScriptKind.TS;
  const file = ts.createSourceFile(name, source, ts.ScriptTarget.ES2022, true, kind);
  const found: string[] = [];
  const take = (node: ts.Node, text: string): void => {
    found.push(`${file.getLineAndCharacterOfPosition(node.getStart()).line + 1}: ${text.trim().replace(/\s+/g, ' ')}`);
  };
  const visit = (node: ts.Node): void => {
    if (ts.isJsxText(node) && WORD.test(node.text)) take(node, node.text);
    if (ts.isStringLiteralLike(node) && isRead(node, node.text)) take(node, node.text);
    if (ts.isTemplateExpression(node)) {
      const text = [node.head.text, ...node.templateSpans.map((span) => span.literal.text)].join('…');
      if (isRead(node, text)) take(node, text);
    }
    ts.forEachChild(node, visit);
  };
  visit(file);
  return found;
}
