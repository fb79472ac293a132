// What comes next, looked up in the answers that came with the session: no rule is worked out here.

const told = (value) => value !== null && value !== undefined;

// What a condition may speak of: the set just done, and how it stands to those before it.
function facts(sets, i) {
  const set = sets[i].data;
  const first = sets.find(({ data }) => told(data.speed_m_s) && data.load_kg === set.load_kg);
  const jumps = sets.slice(0, i).map(({ data }) => data.jump_m).filter(told);
  return {
    ...set,
    number: i + 1,
    unsound_sets: sets.slice(0, i + 1).filter(({ data }) => data.soft_landings === false).length,
    missed_sets: sets.slice(0, i + 1).filter(({ data }) => data.missed > 0).length,
    speed_share: told(set.speed_m_s) && first ? set.speed_m_s / first.data.speed_m_s : null,
    jump_share: told(set.jump_m) && jumps.length ? set.jump_m / Math.max(...jumps) : null,
  };
}

function holds(when, known) {
  return Object.entries(when ?? {}).every(([name, wanted]) => {
    const value = known[name];
    if (!told(value)) return false;
    if (!Array.isArray(wanted)) return value === wanted;
    const [low, high] = wanted;
    return (!told(low) || value >= low) && (!told(high) || value <= high);
  });
}

const KEYS = ["load_kg", "load_words", "plates", "box_m", "drop_m", "sets", "reps"];

// Pain that closes an item: the limit of the place where one is given, the general one otherwise.
function painful(item, pains) {
  return pains.find(({ place, level }) => {
    const own = item.stops_at_pain_places?.[place];
    const limit = own === undefined ? item.stops_at_pain : own;
    return told(limit) && level >= limit;
  }) ?? null;
}

// The numbers of the next set of an item, after the sets done, with the reason of the last change.
// `form` is "below" or "well_below" where the day's first jump said so.
export function follow(item, sets, { pains, form }) {
  const changed = (form && item[`if_${form}`]) || {};
  const next = { why: null, stop: false, pain: painful(item, pains) };
  for (const key of KEYS) next[key] = (key in changed ? changed[key] : item[key]) ?? null;
  if (changed.why) next.why = changed.why;
  const gone = next.sets === 0; // the day's form leaves nothing of it
  if (gone) next.sets = item.sets;
  if (gone || item.closed || next.pain) return { ...next, why: item.closed ?? next.why, stop: true };
  sets.forEach(({ data }, i) => {
    // What the athlete really took is what the next set begins with.
    for (const key of ["load_kg", "box_m", "drop_m"]) {
      if (told(data[key]) && data[key] !== next[key]) {
        next[key] = data[key];
        if (key === "load_kg") next.load_words = next.plates = null;
      }
    }
    const known = facts(sets, i);
    const answer = (item.answers ?? []).find(({ when }) => holds(when, known));
    if (!answer) {
      next.why = i ? null : next.why;
      return;
    }
    next.why = answer.why ?? null;
    if (answer.stop) next.stop = true;
    else for (const key of KEYS) if (key in answer) next[key] = answer[key];
  });
  return next;
}

// How the day began, from the best jump of the exercise that the session's form speaks of.
export function formOf(form, sets) {
  if (!form || (!told(form.below_m) && !told(form.well_below_m))) return null;
  const jumps = sets.filter(({ data }) => data.exercise === form.exercise && told(data.jump_m));
  if (!jumps.length) return null;
  const best = Math.max(...jumps.map(({ data }) => data.jump_m));
  const under = (limit) => told(limit) && best <= limit;
  const state = under(form.well_below_m) ? "well_below" : under(form.below_m) ? "below" : "usual";
  return { state, why: form[`why_${state}`] };
}
