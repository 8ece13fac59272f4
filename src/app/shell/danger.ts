// The danger sheet at work on this page.
import { openDangerClient } from '../../job/danger/client.ts'
import { createDangerReading } from '../danger/reader.ts'
import { danger } from '../store/danger.ts'
import { design, result } from '../store/stores.ts'
import { sweep } from '../store/sweep.ts'
import { tracing } from './tracing.ts'

export const dangerReading = createDangerReading({ design, result, danger, trace: tracing, open: openDangerClient })

// One panel lies over the view at a time.
danger.subscribe((now, before) => now.open && !before.open && sweep.setState({ open: false }))
sweep.subscribe((now, before) => now.open && !before.open && danger.setState({ open: false }))
