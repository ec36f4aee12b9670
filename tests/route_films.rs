//! Routes on which oil, seals and drying stand where they may: nothing is said of them.

use tankday::scenario::read;

const WAYS: [&str; 5] = [
    // Store oil comes off first.
    "oil, at: oil pan, for: 20 min}
    - {do: degrease, at: sink, for: 6 min}
    - {do: coat, in: mn}
    - {do: rinse, at: sink, for: 1 min}",
    // Coated twice for no stated reason.
    "degrease, at: sink, for: 6 min}
    - {do: coat, in: mn}
    - {do: coat, in: mn, as: coat again}
    - {do: rinse, at: sink, for: 1 min}",
    // Coated again after the oil is off; rinsed behind that.
    "degrease, at: sink, for: 6 min}
    - {do: coat, in: mn}
    - {do: rinse, at: sink, for: 1 min}
    - {do: oil, at: oil pan, for: 20 min}
    - {do: degrease, at: sink, for: 6 min, as: degrease again}
    - {do: rinse, at: sink, for: 1 min, as: rinse again}
    - {do: coat, in: mn, as: coat again}
    - {do: rinse, at: sink, for: 1 min, as: last rinse}",
    // Sealed, and blasted before it is coated again.
    "degrease, at: sink, for: 6 min}
    - {do: coat, in: mn}
    - {do: rinse, at: sink, for: 1 min}
    - {do: seal, kind: seal, at: sink, for: 1 min}
    - {do: blast, at: bench, for: 5 min}
    - {do: coat, in: mn, as: coat again}
    - {do: rinse, at: sink, for: 1 min, as: last rinse}",
    // Only the bolts are oiled, only the nuts are coated.
    "degrease, at: sink, for: 6 min}
    - {do: oil, at: oil pan, for: 20 min, only: [bolt]}
    - {do: coat, in: mn, only: [nut]}
    - {do: rinse, at: sink, for: 1 min, only: [nut]}
    - {do: dry, at: bench, for: 5 min}",
];

#[test]
fn films_where_they_may_be_are_no_fault() {
    for way in WAYS {
        let text = format!(
            "tankday: 1\nshop: {{hands: 1}}\ndays: [{{date: 2026-03-05, open: 08:00, close: 17:00}}]\n\
             baths: {{mn: {{coat: {{time: 15 min}}}}}}\n\
             tanks: [{{name: tank, bath: mn, inside: 40 cm x 30 cm x 30 cm, fill: 20 L, heater: {{power: 3 kW}}}}]\n\
             stations: [{{name: sink}}, {{name: oil pan}}, {{name: bench}}]\n\
             parts: {{nut: {{mass: 8 g, area: 9 cm2}}, bolt: {{mass: 18 g, area: 19 cm2}}}}\nroutes:\n  r:\n    \
             - {{do: {way}\norders: [{{id: N, part: nut, count: 60, route: r}}]\n"
        );
        let warned = read("films.yaml", &text)
            .unwrap_or_else(|f| panic!("{}", f.render(false)))
            .warnings;
        let of_films = ["oil", "seal", "dries"].map(|word| format!(" {word}"));
        let said: Vec<&str> = warned.list.iter().map(|f| f.message.as_str()).collect();
        let wrong = said
            .iter()
            .find(|m| of_films.iter().any(|w| format!(" {m}").contains(w)));
        assert_eq!(wrong, None, "{way}");
    }
}
