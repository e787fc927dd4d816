/** What is said of reading a photo of a tracing: the sheet and its marks, guesses, and why something can't be read. */
export const PHOTO_READING_TEXTS = {
  papers: { a4: 'A4', letter: 'Letter' },
  mark: (corner: string, tile: number) => `${corner} of sheet ${tile}`,
  sheets: (paper: string, seen: readonly number[], tiles: number) =>
    tiles === 1 ? paper : `${paper}, ${seen.length === 1 ? 'sheet' : 'sheets'} ${seen.join(', ')} of ${tiles}`,
  andReason: (sheets: string, reason: string) => `${sheets}. ${reason.replace(/\.$/, '')}`,
  byHand: (count: number) =>
    `${count} ${count === 1 ? 'mark was' : 'marks were'} put by hand: bent lines of the lens are not looked for.`,
  unseen: (percent: number) =>
    `On ${percent} % of the way no pen line was seen; there the curve is a guess. Put points closer together there, or switch snapping off.`,
  refusal: {
    found: (got: string) => `Found ${got}.`,
    expected: (expected: string) => `Expected ${expected}.`,
    remedy: (remedy: string) => `${remedy.replace(/\.$/, '')}.`,
  },
  noPixels: {
    expected: 'the pixels of this photo',
    remedy: 'Choose the photo again',
  },
  fault: {
    expected: 'the photo to be read',
    remedy: 'Your points are kept. Change a point or mark to try again, or choose the photo anew.',
  },
  oneLength: 'Trace on a printed sheet, or lay a rectangle of known sides on the same table and use its four corners',
  tooFewMarks: {
    got: (count: number) => (count === 0 ? 'no mark of the sheet' : `${count} ${count === 1 ? 'mark' : 'marks'}`),
    expected: 'three marks or more, whole and in place, or all four corners of one sheet put by hand',
    remedy: 'Put the missing marks by hand, or use the four corners of a rectangle of known size',
  },
  lengths: {
    known: 'the length',
    width: 'the side from 1 to 2',
    height: 'the side from 2 to 3',
    got: (width: string, height: string) => `${width} × ${height}`,
    expected: 'two lengths',
    remedy: 'Write them as 210, 210 mm or 8 1/2 in',
  },
} as const;
