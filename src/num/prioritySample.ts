// A sample by weight of more things than memory holds, in one pass: priority sampling (N. Duffield, C. Lund, M. Thorup, Journal of the ACM 54 (2007) 32).
// Own code: a heap beside flat rows, without an object for each of ten million things.

export interface PrioritySample {
  /** One thing: `width` numbers of `row` from `at` on, its weight > 0, and a number of its own by chance in (0, 1). */
  add(row: ArrayLike<number>, at: number, weight: number, u: number): void
  /** The things that are left, in the order in which they came, each with what it counts for: sums over them estimate the sums over all without bias. */
  take(): { rows: Float32Array; weights: Float64Array; all: boolean }
}

/**
 * At most `size` things of `width` numbers. Each has the priority weight / u; the highest stay, and each of them counts for its weight, or for the
 * highest priority that did not stay where that is more. All of them with their own weights where they are no more than `size`.
 */
export function makePrioritySample(size: number, width: number): PrioritySample {
  const slots = size + 1
  const rows = new Float32Array(slots * width)
  const weights = new Float64Array(slots)
  const order = new Float64Array(slots)
  const priority = new Float64Array(slots)
  /** Slots as a heap, the least priority first. */
  const heap = new Int32Array(slots)
  let count = 0
  let seen = 0

  const at = (place: number) => priority[heap[place]!]!
  const swap = (a: number, b: number) => {
    const slot = heap[a]!
    heap[a] = heap[b]!
    heap[b] = slot
  }
  function rise(from: number): void {
    for (let place = from; place > 0; ) {
      const above = (place - 1) >> 1
      if (at(above) <= at(place)) return
      swap(above, place)
      place = above
    }
  }
  function sink(): void {
    for (let place = 0; ; ) {
      let least = 2 * place + 1
      if (least >= count) return
      if (least + 1 < count && at(least + 1) < at(least)) least++
      if (at(place) <= at(least)) return
      swap(place, least)
      place = least
    }
  }
  function put(slot: number, row: ArrayLike<number>, from: number, weight: number, value: number): void {
    for (let k = 0; k < width; k++) rows[slot * width + k] = row[from + k]!
    weights[slot] = weight
    order[slot] = seen
    priority[slot] = value
  }

  return {
    add(row, from, weight, u) {
      const value = weight / u
      seen++
      if (count < slots) {
        put(count, row, from, weight, value)
        heap[count] = count
        rise(count++)
      } else if (value > at(0)) {
        put(heap[0]!, row, from, weight, value)
        sink()
      }
    },
    take() {
      const all = count < slots
      const least = all ? 0 : at(0)
      const left = Array.from(all ? heap.subarray(0, count) : heap.subarray(1, count))
      left.sort((a, b) => order[a]! - order[b]!)
      const out = new Float32Array(left.length * width)
      for (const [i, slot] of left.entries()) out.set(rows.subarray(slot * width, (slot + 1) * width), i * width)
      return { rows: out, weights: Float64Array.from(left, (slot) => Math.max(weights[slot]!, least)), all }
    },
  }
}
