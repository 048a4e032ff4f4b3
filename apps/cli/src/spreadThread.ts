// The thread that counts: pieces of a spread in, their counts out.
import { countDraws, type SpreadCounts, type SpreadWork } from '@stillprop/physics';

export default function countPiece(piece: SpreadWork): SpreadCounts {
  return countDraws(piece);
}
