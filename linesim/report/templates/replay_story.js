"use strict";
// The story of a window of the trace: how everything stands at a time, and what was counted since the window began.
// Times are whole microseconds since the start of the run. What happens exactly at the end is not part of the window.
const STATE = 0, LEAVE = 1, ARRIVE = 2, SCRAP = 5, REWORK = 6, FAIL = 7;

let weekly = false; // whether times are told by weekday; a run begins on Monday at midnight
const DAYS = ["mon", "tue", "wed", "thu", "fri", "sat", "sun"];

class Story {
  constructor(data) {
    this.data = data;
    weekly = data.weekly;
    this.count = data.rows.length / 5;
    this.times = new Float64Array(this.count);
    for (let row = 0, time = data.from_us; row < this.count; row++) this.times[row] = time += data.rows[5 * row];
    this.reset();
  }

  reset() {
    const start = this.data.start, owners = this.data.owners;
    this.time = this.data.from_us;
    this.next = 0;
    this.states = owners.map((owner, number) => start.states[number] ?? -1);
    this.since = owners.map(() => this.data.from_us);
    this.spent = owners.map(() => new Map());
    this.contents = owners.map((owner, number) => [...(start.contents[number] ?? [])]);
    this.counts = { good: 0, scrapped: 0, sampled: 0, reworked: 0, entered: 0, inside: start.inside };
    this.goingBack = new Set(start.going_back);
    this.fallen = owners.map(() => 0); // parts that fell into a chute, or were put into a drawer
    this.last = "";
  }

  // Stands at this time, everything that happens in that instant done.
  goTo(time) {
    time = Math.min(Math.max(time, this.data.from_us), this.data.to_us);
    if (time < this.time) this.reset();
    while (this.next < this.count && this.times[this.next] <= time) this.happens(this.next++);
    this.time = time;
  }

  nextTime() {
    return this.next < this.count ? this.times[this.next] : this.data.to_us;
  }

  nextBreakdown() {
    for (let row = this.next; row < this.count; row++) if (this.data.rows[5 * row + 1] === FAIL) return this.times[row];
    return null;
  }

  happens(row) {
    const [, what, owner, part, value] = this.data.rows.slice(5 * row, 5 * row + 5);
    const [name, kind, group] = this.data.owners[owner];
    if (what === STATE) {
      this.book(owner, this.times[row]);
      this.states[owner] = value;
    } else if (what === LEAVE) {
      if (kind === "infeed") { this.counts.entered++; this.counts.inside++; } else this.take(owner, part);
      if (value >= 0) this.contents[value].push(part);
      else if (group === this.data.last && !this.goingBack.has(part)) this.leaves("good");
    } else if (what === ARRIVE) {
      if (value >= 0) this.take(value, part);
      this.goingBack.delete(part);
      if (kind === "outfeed") this.leaves("good");
      else if (kind === "drawer") { this.leaves("sampled"); this.fallen[owner]++; } else this.contents[owner].push(part);
    } else if (what === SCRAP) {
      this.take(owner, part);
      this.leaves("scrapped");
      this.fallen[owner]++;
    } else if (what === REWORK) {
      this.counts.reworked++;
      this.goingBack.add(part);
    } else if (what === FAIL) {
      const [, , cause] = this.data.causes[value];
      this.last = `${name} breaks down: ${cause}`;
    }
  }

  leaves(how) { this.counts[how]++; this.counts.inside--; }

  take(owner, part) {
    const at = this.contents[owner].indexOf(part);
    if (at >= 0) this.contents[owner].splice(at, 1);
  }

  book(owner, time) {
    const state = this.states[owner], spent = this.spent[owner];
    if (state >= 0) spent.set(state, (spent.get(state) ?? 0) + time - this.since[owner]);
    this.since[owner] = time;
  }

  // Time in a state since the window began [us].
  timeIn(owner, state) {
    return (this.spent[owner].get(state) ?? 0) + (this.states[owner] === state ? this.time - this.since[owner] : 0);
  }

  stateName(owner, state = this.states[owner]) {
    const names = this.data.states[this.data.owners[owner][1]];
    return names && state >= 0 ? names[state] : "";
  }

  // Where a carriage is on its rail [m].
  position(number, time = this.time) {
    const loader = this.data.loaders[number], moves = loader.moves;
    let low = 0, high = moves.length;
    while (low < high) { const middle = (low + high) >> 1; if (moves[middle][0] <= time) low = middle + 1; else high = middle; }
    if (low === 0) return moves.length ? moves[0][2] : loader.stops[0][1];
    const [from, to, start, end, done] = moves[low - 1];
    return start + Math.sign(end - start) * gone(Math.abs(end - start), (done + Math.min(time, to) - from) / 1e6, loader);
  }
}

// How far a carriage has come so long after it began to move [m]: it starts, runs and stops.
function gone(distance, time, { speed, acceleration }) {
  const top = Math.min(speed, Math.sqrt(distance * acceleration)), rising = top / acceleration;
  const whole = top > 0 ? distance / top + rising : 0;
  if (time >= whole - 1e-6) return distance;
  if (time < rising) return acceleration * time * time / 2;
  if (time > whole - rising) return distance - acceleration * (whole - time) ** 2 / 2;
  return top * (time - rising / 2);
}

function clock(time) {
  const seconds = Math.floor(time / 1e6), two = (number) => String(number).padStart(2, "0");
  const hours = Math.floor(seconds / 3600), day = weekly ? `${DAYS[Math.floor(hours / 24) % 7]} ` : "";
  return `${day}${weekly ? hours % 24 : hours}:${two(Math.floor(seconds / 60) % 60)}:${two(seconds % 60)}`;
}
