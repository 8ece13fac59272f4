// What the lamp's own trace waits for: a panel that computes on the same cores.

export type TraceHolder = 'danger' | 'sweep' | 'readings' | 'compare' | 'optimize'

const HOLDER_WORDS: Record<TraceHolder, string> = {
  danger: 'the reading of dangers',
  sweep: 'the sweep',
  readings: 'the fit to your readings',
  compare: 'the lamps to compare',
  optimize: 'the search',
}

/** 'the search', 'the search and the lamps to compare'; empty where nothing holds the trace. */
export const holderWords = (holders: readonly TraceHolder[]): string =>
  holders.map((h) => HOLDER_WORDS[h]).join(' and ')
