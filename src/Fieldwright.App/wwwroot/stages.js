// Which stage a message is for, by its kind.
import { parseHead } from './board.js';
import { Stage, parseField } from './stage.js';
import { SpaceStage, parseSpace } from './space.js';
import { BoxStage, parseBox } from './box.js';

export const STAGES = { section: Stage, space: SpaceStage, box: BoxStage };

export function parse(buffer) {
  const kind = parseHead(buffer).head.kind ?? 'section';
  return { kind, ...(kind === 'section' ? parseField(buffer) : kind === 'box' ? parseBox(buffer) : parseSpace(buffer)) };
}
