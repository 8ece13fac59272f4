// The lamp's own trace waits while a panel computes. Its first figures come first, and it resumes when the last panel is done, unless the user has
// paused or resumed it meanwhile.
import type { TraceHolder } from '../common/traceHolders.ts'
import type { Result } from './result.ts'

export interface TracePause {
  /** Resolves true once the trace is paused, false when `isOld` says that the request has been replaced. */
  begin(isOld: () => boolean): Promise<boolean>
  end(): void
}

export function createTracePause(
  result: Result,
  trace: { pause(): void; resume(): void },
  holder: TraceHolder,
): TracePause {
  return {
    async begin(isOld) {
      while (!isOld()) {
        const { sheet, stale, trace: state, atWork, heldBy } = result.getState()
        if (state === 'paused') {
          if (heldBy.length > 0 && !heldBy.includes(holder)) result.setState({ heldBy: [...heldBy, holder] })
          return true
        }
        if (state === 'failed' || !atWork) return true
        if (sheet && !stale) {
          trace.pause()
          if (result.getState().trace === 'paused') result.setState({ heldBy: [holder] })
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
      const { heldBy, trace: state } = result.getState()
      if (!heldBy.includes(holder)) return
      const others = heldBy.filter((h) => h !== holder)
      result.setState({ heldBy: others })
      if (others.length === 0 && state === 'paused') trace.resume()
    },
  }
}
