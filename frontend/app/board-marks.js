/**
 * Says of each mark of a board whose it is: the answer leaves out what its ids
 * tell already, since there are many. @param {any} board @returns {import('../shapes.js').Board}
 */
export function nameMarks(board) {
  for (const size of board.sizes) {
    for (const strip of size.strips) {
      for (const m of strip.marks) {
        m.kind = m.sample_id ? 'sample' : 'report';
        m[m.sample_id ? 'label' : 'handle'] = m.who;
      }
    }
  }
  return board;
}
