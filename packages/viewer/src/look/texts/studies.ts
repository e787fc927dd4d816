/** The row of studies, the sheet they open on, and the names of those that have no dictionary on the first page. */
export const STUDIES_TEXTS = {
  label: 'Studies',
  close: 'Close',
  working: 'Laying it out…',
  shoulder: { name: 'Shoulder', says: 'Does the blade pass under the tip over a stride?' },
  riding: { name: 'Riding', says: 'Hills, trot, stirrups, another posture' },
  sizing: { name: 'Sizing', says: 'Which seat, width and tips for this rider on this horse?' },
  reach: { name: 'Reach', says: 'How far may a back differ from this one?' },
  sure: { name: 'How sure', says: 'What do these measurements settle?' },
} as const;
