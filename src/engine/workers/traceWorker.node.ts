// A tracing worker on Node's worker threads.
import { serveTasks } from './protocol.ts'
import { threadSide } from './selfNode.ts'

serveTasks(threadSide())
