/// <reference lib="webworker" />
import { serveCalls } from '../../engine/workers/calls.ts'
import { selfSide } from '../../engine/workers/selfBrowser.ts'
import { makeReadRayService, type ReadRayCalls } from './readService.ts'

serveCalls<ReadRayCalls>(selfSide(), makeReadRayService())
