/** One line of the benchmark table: ours against a reference, measured in the same run. */
export interface Row {
  /** Target that the row belongs to, "T10". */
  target: string;
  name: string;
  /** Median of our times, and of the reference's, in `unit`. */
  ours: number;
  reference: number;
  /** reference / ours: how many times faster ours is. */
  ratio: number;
  unit: string;
  /** How far the two results differ, in words; printed beside the speed. */
  accuracy?: string;
}
