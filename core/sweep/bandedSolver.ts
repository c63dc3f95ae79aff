/**
 * A symmetric positive definite matrix with few diagonals, held by its lower half: `rows[i * (width + 1) + (i − j)]` is
 * the element (i, j) for j from i − width to i.
 * Factoring and solving by Cholesky's method for bands (G. H. Golub, C. F. Van Loan, Matrix Computations, section on
 * banded systems; from memory).
 */
export class BandedMatrix {
  readonly size: number;
  readonly width: number;
  readonly rows: Float64Array;

  constructor(size: number, width: number) {
    this.size = size;
    this.width = width;
    this.rows = new Float64Array(size * (width + 1));
  }

  /** Adds `value` to element (i, j) and, by symmetry, (j, i). |i − j| must not be above `width`. */
  add(i: number, j: number, value: number): void {
    const index = i >= j ? i * (this.width + 1) + (i - j) : j * (this.width + 1) + (j - i);
    this.rows[index] = (this.rows[index] as number) + value;
  }

  clear(): void {
    this.rows.fill(0);
  }

  /**
   * The lower factor L with L·Lᵀ equal to this matrix, its diagonal multiplied by `1 + damping`; null if not definite.
   * It is written into `into`, a matrix of the same size and width, and returned there.
   */
  factor(damping: number, into = new BandedMatrix(this.size, this.width)): BandedMatrix | null {
    const { size, width, rows } = this;
    const out = into.rows;
    for (let i = 0; i < size; i += 1) {
      const first = Math.max(0, i - width);
      // The element (i, j) is at `row − j`.
      const row = i * (width + 1) + i;
      for (let j = first; j < i; j += 1) {
        const other = j * (width + 1) + j;
        let sum = rows[row - j] as number;
        for (let k = first; k < j; k += 1) sum -= (out[row - k] as number) * (out[other - k] as number);
        out[row - j] = sum / (out[other - j] as number);
      }
      let sum = (rows[row - i] as number) * (1 + damping);
      for (let k = first; k < i; k += 1) sum -= (out[row - k] as number) * (out[row - k] as number);
      if (!(sum > 0)) return null;
      out[row - i] = Math.sqrt(sum);
    }
    return into;
  }

  /** With this matrix a lower factor: solves L·Lᵀ·x = right. The answer is written into `x`, which may be `right`. */
  solve(right: Float64Array, x: Float64Array = new Float64Array(this.size)): Float64Array {
    const { size, width, rows } = this;
    const stride = width + 1;
    for (let i = 0; i < size; i += 1) {
      const row = i * stride + i;
      let sum = right[i] as number;
      for (let k = Math.max(0, i - width); k < i; k += 1) sum -= (rows[row - k] as number) * (x[k] as number);
      x[i] = sum / (rows[row - i] as number);
    }
    for (let i = size - 1; i >= 0; i -= 1) {
      const last = Math.min(size - 1, i + width);
      let sum = x[i] as number;
      for (let k = i + 1; k <= last; k += 1) sum -= (rows[k * stride + k - i] as number) * (x[k] as number);
      x[i] = sum / (rows[i * stride] as number);
    }
    return x;
  }
}
