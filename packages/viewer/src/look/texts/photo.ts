/** The desk for photos of paper tracings: its start, the sheet to trace on, the photos, all lines and the way out. */
export const PHOTO_TEXTS = {
  start: {
    says: 'Bend a flexible rule over the back, lay it on paper, draw along it, and photograph the paper. The desk finds the sheet in the photo, follows your line, and gives the curve in millimetres.',
    trace: {
      title: 'Trace',
      says: 'On our printed sheet, or on any paper whose size you know. Draw the level line where the spirit level lay, and mark the spine.',
      print: 'Print a tracing sheet',
    },
    photograph: {
      title: 'Photograph',
      says: 'From straight above, a metre or more away, zoomed in rather than close. All four corners in the picture, no shadow across the line, the paper flat.',
    },
    follow: {
      title: 'Follow the line',
      says: 'Choose the photos of all stations at once, or drop them here. A few clicks along each line are enough.',
      choose: 'Choose photos',
      reading: 'Reading the photos…',
    },
    note: 'Photos are read on this page alone and are gone when it is closed; save the tracings. Without the sheet, four corners of a rectangle of known size lying on the same table do as well (a sheet of A4 or Letter). One known length is not enough: it says nothing of the tilt.',
  },
  chooser: 'Photos to read',
  print: {
    label: 'Tracing sheet',
    title: 'The tracing sheet',
    close: 'Close the sheet',
    says: (tiles: number, cm: string) =>
      `${tiles === 1 ? 'One sheet' : `${tiles} sheets, taped side by side,`} ${cm} cm wide. Print at 100 %, without “fit to page”, and measure the 100 mm bar at the foot of each sheet before you trace. Lay the level line where the spirit level lay and the midline on the spine.`,
    paper: 'Paper',
    tiles: 'Sheets side by side',
    oneTile: '1 sheet',
    print: (tiles: number) => (tiles === 1 ? 'Print it' : `Print all ${tiles}`),
    page: (page: number, tiles: number) => `Sheet ${page} of ${tiles}`,
    save: (page: number) => `Save sheet ${page}`,
  },
  tabs: {
    label: 'Photo',
    reading: 'Reading…',
    remove: 'Take this photo off',
    startOver: 'Start over',
  },
  workbench: {
    photo: 'Photo',
    side: 'Curve and fields',
    gone: (photo: string) => `The pixels of ${photo} are gone from this page. Choose the photo again.`,
    click: 'puts a point of the line',
  },
  view: {
    label: (photo: string, click: string) =>
      `Photo ${photo}. Arrow keys move it, plus and minus zoom, 0 shows all, Enter ${click} at the cross.`,
    closer: 'Closer',
    further: 'Further',
    whole: 'Whole photo',
    pixels: (width: number, height: number) => `${width} × ${height} pixels`,
    ofPixels: (used: string, width: number, height: number) => `${used} used, of ${width} × ${height}`,
  },
  /** Why a file can't be used as a photo. */
  unread: {
    tooHeavy: (file: string, megabytes: string, most: number) =>
      `${file} is ${megabytes} MB; at most ${most} MB is read. Save it smaller.`,
    size: (file: string, width: number, height: number, least: number, mostMillion: number) =>
      `${file} is ${width} × ${height} pixels; from ${least} pixels on its short side to ${mostMillion} million in all is read.`,
    noPicture: (file: string) =>
      `${file} is not a picture that this browser can read. Nothing was changed. Save it as JPEG or PNG and choose it again.`,
    noPixels: 'This browser gives no way to read the pixels of a picture.',
    other: (file: string, error: string) => `${file} could not be read: ${error}.`,
  },
  collected: {
    title: 'Lines so far',
    columns: { line: 'Line', where: 'Where', length: 'Length' },
    remove: 'Remove',
    removeLine: (line: string) => `Remove ${line}`,
    unnamed: 'without a name',
    another: 'Another line in this photo',
    addPhotos: 'Add photos',
    noStation: 'station not given',
    alongSpine: (station: string) => `along the spine, from ${station}`,
    across: (station: string, side: string) => `${station}, ${side}`,
    sides: { both: 'both sides', left: 'left', right: 'right' },
    noPoints: 'no points yet',
    noScale: 'no millimetres',
    reading: '…',
    unread: 'not read',
    length: (mm: string) => `${mm} mm`,
  },
  out: {
    heightsBySpine: 'Heights of the stations from the line along the spine',
    toTracings: 'Go on to the tracings',
    ontoBench: 'Straight onto the bench',
    save: 'Save the tracings',
    heightsUnsaid:
      'All level lines count as lying at one height. If they did not, type their heights, or trace a line along the spine too.',
    noStation: (lines: readonly string[]) => `${lines.join(', ')}: no station given; the tracings will ask for it.`,
    curves: (count: number) =>
      `${count} curves. The tracings ask for the record too; straight onto the bench it says by whom: not stated.`,
    /** In the title of the tracings' desk, where the name of a file stands otherwise. */
    tracings: 'photo tracings',
    missing: {
      fault: (line: string, fault: string) => `${line || 'A line'}: ${fault}`,
      onePoint: (line: string) => `${line} has one point only: go on along it, or remove it.`,
      reading: (line: string) => `${line} is being read.`,
      unread: (line: string) => `${line} could not be read: see what is said there.`,
      tooMany: (count: number, most: number) => `${count} lines; at most ${most} make one back.`,
      none: 'No line across the back yet.',
      one: 'One line across the back so far: two stations are the least, three or more are usual.',
    },
    back: {
      name: 'Back from photos of tracings',
      how: 'paper tracings, read from photos',
    },
  },
} as const;
