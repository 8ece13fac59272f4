// The ways that few rays take: the host's.

/** Through the lens in full; `worked`: in by the grooved or curved side. Gives how it ends. */
// @ts-ignore: decorator
@external('host', 'lens')
export declare function lensHost(worked: i32): i32
