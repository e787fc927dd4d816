/** One line of the table: what it is, and what each result has, as it is shown. */
export interface CompareRow {
  readonly key: string;
  readonly label: string;
  readonly cells: readonly string[];
}

/** Whether all results show the same. */
export const isEqual = ({ cells }: CompareRow): boolean => cells.every((cell) => cell === cells[0]);
