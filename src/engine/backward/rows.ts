/** A flat table as the views of its rows, `size` numbers each. */
export const rowsOf = (table: Float32Array, size: number): Float32Array[] =>
  Array.from({ length: table.length / size }, (_, i) => table.subarray(i * size, (i + 1) * size))
