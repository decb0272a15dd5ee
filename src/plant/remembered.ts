/** A function that works its answer out once for each key: thousands of devices share a few products and rooms. */
export function remembered<K, V>(work: (key: K) => V): (key: K) => V {
  const answers = new Map<K, V>();
  return (key) => {
    let answer = answers.get(key);
    if (answer === undefined) {
      answer = work(key);
      answers.set(key, answer);
    }
    return answer;
  };
}
