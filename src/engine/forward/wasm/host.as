// What the host does for the forward kernel: the ways that few rays take.

/** Through a solid lens; `curved`: in by the curved side. Gives how it ends. */
// @ts-ignore: decorator
@external('host', 'solid')
export declare function solidHost(curved: i32): i32
