// Stands in for the desk while the page is being drawn: one made-up sheet, a little later.
import type { Tracer } from '../../src/app/shell/tracing.ts'
import { fakeSheet } from './fakeSheet.ts'

export function fakeTracer(): Tracer {
  let timer: ReturnType<typeof setTimeout> | undefined
  return {
    trace(lamp, _options, onSheet) {
      clearTimeout(timer)
      timer = setTimeout(() => onSheet(fakeSheet(lamp)), 60)
    },
    pause() {},
    resume() {},
    dispose: () => clearTimeout(timer),
  }
}
