// What is known of a walk: the server's readings and those still in this browser, by place.

const NUMBER = /^([+\-−]?(?:\d+(?:[.,]\d*)?|[.,]\d+)(?:[eE][+\-]?\d{1,4})?)\s*([^\s\d.,+\-]\S*)?$/;

const spot = (...parts) => parts.join("|");
const under = (feed) => feed && spot(feed.into, feed.out, feed.amps);

export class WalkRecord {
  constructor(plan) {
    this.plan = plan;
    this.last = plan.last;
    this.outlook = plan.outlook; // [expected, margin] of each place, by the readings the server knows
    this.byKey = new Map(); // readings in force
    this.gone = new Set(); // keys that were corrected or withdrawn
    this.index = new Map();
    plan.stops.forEach(([from, to, track], n) => this.index.set(spot(to, from, track), [n, -1]));
    plan.stops.forEach(([from, to, track], n) => this.index.set(spot(from, to, track), [n, 1]));
    this.hear(plan.rows);
  }

  // Rows of the record, in order.
  hear(rows) {
    for (const row of rows) {
      this.last = Math.max(this.last, row.seq);
      this.put(row);
    }
  }

  // One reading, of the record or of this browser (`waits`).
  put(row) {
    if (row.supersedes) this.remove(row.supersedes);
    const { test, feed } = this.plan;
    if (row.struck || row.test !== test || under(row.feed) !== under(feed) || this.gone.has(row.key)) return;
    const [n, way] = this.place(row) ?? [];
    if (way) this.byKey.set(row.key, { ...row, n, turned: way < 0 && test === "drop" });
  }

  // Number of the place of a reading, and -1 where it was touched the other way round.
  place({ place_from, place_to, track }) {
    return this.index.get(spot(place_from, place_to, track));
  }

  remove(key) {
    this.gone.add(key);
    this.byKey.delete(key);
  }

  at(n) {
    return [...this.byKey.values()].filter((one) => one.n === n);
  }

  // The latest reading of each place.
  latest() {
    const byPlace = [...this.byKey.values()].map((one) => [one.n, one]);
    return new Map(byPlace.sort(([a], [b]) => a - b));
  }

  // What was typed as a number: {text, unit, si}; null where it is none.
  read(text, unit = this.plan.unit) {
    const parts = text.trim().match(NUMBER);
    if (!parts || (parts[1].includes(",") && !this.plan.comma)) return null;
    const number = parts[1].replace(",", ".").replace("−", "-");
    const named = parts[2] || unit;
    const factor = this.plan.factors[named] ?? this.plan.factors[unit] ?? 1;
    return { text: parts[1], unit: named, si: Number(number) * factor };
  }

  // Expected value [SI] by place, of the places that are out of family.
  odd() {
    const found = new Map();
    for (const [n, one] of this.latest()) {
      const typed = this.read(one.text, one.unit);
      const [expected, margin] = this.outlook?.[n] ?? [];
      if (typed && Math.abs((one.turned ? -typed.si : typed.si) - expected) > margin) found.set(n, expected);
    }
    return found;
  }
}
