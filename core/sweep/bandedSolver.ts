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

  /** Adds `factor` times the first `count` of `values` to row i from column `from` on; all of them at or below the diagonal. */
  addRow(i: number, from: number, values: Float64Array, count: number, factor: number): void {
    const { rows } = this;
    const last = i * (this.width + 1) + (i - from);
    for (let n = 0; n < count; n += 1) rows[last - n] = (rows[last - n] as number) + factor * (values[n] as number);
  }

  /** The lower factor L with L·Lᵀ equal to this matrix, its diagonal multiplied by `1 + damping`; null if not definite. */
  factor(damping: number): BandedMatrix | null {
    const { size, width } = this;
    const lower = new BandedMatrix(size, width);
    const out = lower.rows;
    const stride = width + 1;
    for (let i = 0; i < size; i += 1) {
      const first = Math.max(0, i - width);
      for (let j = first; j <= i; j += 1) {
        let sum = this.rows[i * stride + (i - j)] as number;
        if (i === j) sum *= 1 + damping;
        for (let k = first; k < j; k += 1) {
          sum -= (out[i * stride + (i - k)] as number) * (out[j * stride + (j - k)] as number);
        }
        if (i === j) {
          if (!(sum > 0)) return null;
          out[i * stride] = Math.sqrt(sum);
        } else {
          out[i * stride + (i - j)] = sum / (out[j * stride] as number);
        }
      }
    }
    return lower;
  }

  /** With this matrix a lower factor: solves L·Lᵀ·x = right. */
  solve(right: Float64Array): Float64Array {
    const { size, width, rows } = this;
    const stride = width + 1;
    const x = Float64Array.from(right);
    for (let i = 0; i < size; i += 1) {
      let sum = x[i] as number;
      for (let k = Math.max(0, i - width); k < i; k += 1)
        sum -= (rows[i * stride + (i - k)] as number) * (x[k] as number);
      x[i] = sum / (rows[i * stride] as number);
    }
    for (let i = size - 1; i >= 0; i -= 1) {
      let sum = x[i] as number;
      for (let k = i + 1; k <= Math.min(size - 1, i + width); k += 1) {
        sum -= (rows[k * stride + (k - i)] as number) * (x[k] as number);
      }
      x[i] = sum / (rows[i * stride] as number);
    }
    return x;
  }
}
