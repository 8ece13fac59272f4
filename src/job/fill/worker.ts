/// <reference lib="webworker" />
import { serveCalls } from '../../engine/workers/calls.ts'
import { selfSide } from '../../engine/workers/selfBrowser.ts'
import { type FillCalls, makeFillService } from './service.ts'

serveCalls<FillCalls>(selfSide(), makeFillService())
