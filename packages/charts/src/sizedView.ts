// What the drawn views share: each fills a box of its own, and draws anew when the box changes.
import { LitElement } from 'lit';
import { state } from 'lit/decorators.js';
import type { Size } from './labelPlacement.js';
import { textMeasure } from './textMeasure.js';

/** Labels of the drawn views. */
export const LABEL_PX = 13;
export const LINE_PX = 15;

/** So often the box may change by being drawn in; after that the smaller of its sizes is kept. */
const MOST_TURNS = 3;

/** A view whose drawing fills an element with the class `map`. */
export abstract class SizedView extends LitElement {
  @state() protected box = { width: 0, height: 0 };
  private turns = 0;
  private resize = new ResizeObserver(() => {
    this.turns = 0;
    this.takeSize();
  });

  override connectedCallback() {
    super.connectedCallback();
    this.resize.observe(this);
    document.fonts.ready.then(() => this.requestUpdate('box')); // labels are as wide as their letters are then
  }
  override disconnectedCallback() {
    super.disconnectedCallback();
    this.resize.disconnect();
  }
  override updated() {
    this.takeSize();
  }

  /** Size of a text as it will be drawn (px). */
  protected measure(): (text: string) => Size {
    const width = textMeasure(`${LABEL_PX}px ${getComputedStyle(this).fontFamily}`);
    return (text) => ({ width: width(text), height: LINE_PX });
  }

  private takeSize() {
    const map = this.renderRoot.querySelector('.map');
    if (!map) return;
    const { clientWidth: width, clientHeight: height } = map;
    if (width === this.box.width && height === this.box.height) {
      this.turns = 0;
      return;
    }
    // What is drawn may change the box: a longer key takes a line more, and the drawing that fits then has a shorter key.
    if (this.turns >= MOST_TURNS && width === this.box.width && height > this.box.height) return;
    this.turns += 1;
    this.box = { width, height };
  }
}
