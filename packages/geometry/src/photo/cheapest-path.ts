/**
 * Cheapest way through a grid of costs from one cell to another, eight neighbours, a step costing the mean of its two
 * cells times its length (Dijkstra 1959). Cells as indices, row by row.
 */
export function cheapestPath(costs: Float32Array, width: number, from: number, to: number): number[] {
  const count = costs.length;
  const height = count / width;
  const best = new Float64Array(count).fill(Number.POSITIVE_INFINITY);
  const came = new Int32Array(count).fill(-1);
  const heap = new CellHeap();
  best[from] = 0;
  heap.push(from, 0);
  for (let cell = heap.pop(); cell >= 0 && cell !== to; cell = heap.pop()) {
    if (heap.poppedKey > best[cell]!) continue;
    const [x, y] = [cell % width, Math.floor(cell / width)];
    for (let dy = -1; dy <= 1; dy++) {
      for (let dx = -1; dx <= 1; dx++) {
        const [u, v] = [x + dx, y + dy];
        if ((dx === 0 && dy === 0) || u < 0 || v < 0 || u >= width || v >= height) continue;
        const next = v * width + u;
        const step = dx !== 0 && dy !== 0 ? Math.SQRT2 : 1;
        const sum = best[cell]! + (step * (costs[cell]! + costs[next]!)) / 2;
        if (sum >= best[next]!) continue;
        best[next] = sum;
        came[next] = cell;
        heap.push(next, sum);
      }
    }
  }
  const path: number[] = [];
  for (let cell = to; cell >= 0; cell = came[cell]!) path.push(cell);
  return path.reverse();
}

/** Binary heap of cells by key. */
class CellHeap {
  poppedKey = 0;
  readonly #cells: number[] = [];
  readonly #keys: number[] = [];

  push(cell: number, key: number): void {
    const [cells, keys] = [this.#cells, this.#keys];
    let i = cells.length;
    while (i > 0) {
      const above = (i - 1) >> 1;
      if (keys[above]! <= key) break;
      cells[i] = cells[above]!;
      keys[i] = keys[above]!;
      i = above;
    }
    cells[i] = cell;
    keys[i] = key;
  }

  /** Cell of the least key, or -1. */
  pop(): number {
    const [cells, keys] = [this.#cells, this.#keys];
    if (cells.length === 0) return -1;
    const top = cells[0]!;
    this.poppedKey = keys[0]!;
    const cell = cells.pop()!;
    const key = keys.pop()!;
    const n = cells.length;
    if (n === 0) return top;
    let i = 0;
    for (let below = 1; below < n; below = 2 * i + 1) {
      if (below + 1 < n && keys[below + 1]! < keys[below]!) below++;
      if (keys[below]! >= key) break;
      cells[i] = cells[below]!;
      keys[i] = keys[below]!;
      i = below;
    }
    cells[i] = cell;
    keys[i] = key;
    return top;
  }
}
