// Twin of src/optics/sobol.ts: the points; the scrambled numbers are made once a batch on the host.
// References: [4] I. A. Antonov, V. M. Saleev (1979), Gray order.

var<workgroup> numbers: array<u32, 198>;
var<private> point: array<u32, 6>;

/// Point number `index` of the batch in Gray order [4].
fn sobolAt(index: u32) {
  for (var d = 0u; d < 6u; d++) { point[d] = numbers[192u + d]; }
  var i = 0u;
  for (var g = index ^ (index >> 1u); g != 0u; g >>= 1u) {
    if ((g & 1u) != 0u) {
      for (var d = 0u; d < 6u; d++) { point[d] ^= numbers[i + d]; }
    }
    i += 6u;
  }
}

/// From point `index` to point `index + 2^k`: the bits from k up to k + m turn, m the zeros at the end of (index >> k) + 1; in Gray code
/// that is bit k + m and bit k − 1.
fn sobolStep(index: u32, k: u32) {
  let m = countTrailingZeros((index >> k) + 1u);
  let at = (k + m) * 6u;
  let low = select(192u, (k - 1u) * 6u, k > 0u);
  for (var d = 0u; d < 6u; d++) { point[d] ^= numbers[at + d] ^ select(0u, numbers[low + d], k > 0u); }
}
