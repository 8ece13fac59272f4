// The lamp's own trace rests while a panel computes: its first figures come first, and it goes on afterwards unless the builder has had a
// word in between.
import type { Result } from './result.ts'

export interface TraceRest {
  /** Resolves true when the trace rests, false when `isOld` says that nobody waits for it any more. */
  begin(isOld: () => boolean): Promise<boolean>
  end(): void
}

export function createTraceRest(result: Result, trace: { pause(): void; resume(): void }): TraceRest {
  let paused = false
  return {
    async begin(isOld) {
      while (!isOld()) {
        const { sheet, stale, trace: state, atWork } = result.getState()
        if (state === 'paused' || state === 'failed' || !atWork) return true
        if (sheet && !stale) {
          trace.pause()
          paused = result.getState().trace === 'paused'
          return true
        }
        await new Promise<void>((next) => {
          const off = result.subscribe(() => {
            off()
            next()
          })
        })
      }
      return false
    },
    end() {
      if (paused && result.getState().trace === 'paused') trace.resume()
      paused = false
    },
  }
}
