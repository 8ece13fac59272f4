// The lamp's own trace is paused while a panel computes. Its first figures come first, and it resumes afterwards unless the user has paused
// or resumed it meanwhile.
import type { Result } from './result.ts'

export interface TracePause {
  /** Resolves true once the trace is paused, false when `isOld` says that the request has been replaced. */
  begin(isOld: () => boolean): Promise<boolean>
  end(): void
}

export function createTracePause(result: Result, trace: { pause(): void; resume(): void }): TracePause {
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
