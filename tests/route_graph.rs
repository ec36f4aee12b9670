//! The process graph: its ends, loops, longest path, its text and its places for drawing.

use crate::kept_cases::keeping;
use crate::small_shop::{BENCH, OIL, TANK, min, plain_route, shop, step};
use proptest::prelude::*;
use tankday::route::*;
use tankday::shop::*;
use tankday::units::{Share, Span};

fn route(steps: Vec<Step>) -> Route {
    Route {
        name: "tried".into(),
        steps,
    }
}

/// A route of 1 min steps on the bench, given by what each comes after.
fn shape(after: &[&[u32]]) -> Route {
    let named = |i: usize| char::from(b'a' + i as u8).to_string();
    route(
        after
            .iter()
            .enumerate()
            .map(|(i, a)| step(&named(i), BENCH, 1, a))
            .collect(),
    )
}

fn back(route: &mut Route, step: usize, to: u32, percent: f64) {
    route.steps[step].retry = Some(Retry {
        share: Share::percent(percent),
        back_to: StepIx(to),
        odds: None,
    });
}

fn ix(steps: &[u32]) -> Vec<StepIx> {
    steps.iter().map(|&s| StepIx(s)).collect()
}

fn said(route: &Route) -> Vec<String> {
    problems(route).iter().map(|p| p.message(route)).collect()
}

#[test]
fn a_sound_route_has_no_problems() {
    assert_eq!(problems(&plain_route()), []);
    assert_eq!(
        problems(&shape(&[&[], &[], &[0, 1], &[2], &[2]])),
        [],
        "several starts and ends"
    );
}

#[test]
fn starts_ends_and_steps_in_either_order() {
    let graph = ProcessGraph::of(&shape(&[&[], &[], &[0, 1], &[2], &[2]]));
    assert_eq!(graph.starts(), ix(&[0, 1]));
    assert_eq!(graph.ends(), ix(&[3, 4]));
    assert_eq!(
        graph.in_either_order(),
        [(StepIx(0), StepIx(1)), (StepIx(3), StepIx(4))]
    );
    assert_eq!(graph.downstream(StepIx(2)), ix(&[2, 3, 4]));
    assert_eq!(graph.upstream(StepIx(3)), ix(&[0, 1, 2, 3]));
    assert!(graph.comes_before(StepIx(0), StepIx(4)));
    assert!(!graph.comes_before(StepIx(3), StepIx(4)) && !graph.comes_before(StepIx(2), StepIx(2)));
}

#[test]
fn an_empty_route_is_a_problem() {
    assert_eq!(said(&route(Vec::new())), ["route `tried` has no steps"]);
}

#[test]
fn loops_are_found_with_all_their_steps() {
    let tried = shape(&[&[], &[0, 3], &[1], &[2]]);
    assert_eq!(ProcessGraph::of(&tried).loops(), [ix(&[1, 2, 3])]);
    assert_eq!(ProcessGraph::of(&tried).in_order(), None);
    assert_eq!(
        said(&tried),
        [
            "from `a` no load ever gets to the end of the route",
            "`b`, `c` and `d` wait for each other: none of them can ever begin"
        ]
    );
    assert_eq!(
        said(&shape(&[&[0]])),
        ["`a` waits for itself and can never begin"]
    );
}

#[test]
fn what_lies_behind_a_loop_cannot_be_reached() {
    let tried = shape(&[&[], &[0, 2], &[1], &[2], &[0]]);
    assert_eq!(
        said(&tried),
        [
            "`b` and `c` wait for each other: none of them can ever begin",
            "`d` can never begin: it comes after `b`, which never ends"
        ]
    );
    assert_eq!(problems(&tried)[1].step(), Some(StepIx(3)));
}

#[test]
fn an_inspection_that_nothing_passes_is_a_problem() {
    let mut tried = shape(&[&[], &[0], &[1]]);
    back(&mut tried, 2, 0, 100.0);
    assert_eq!(said(&tried), ["`c` sends every load back: none ever leaves"]);
    back(&mut tried, 2, 0, 99.0);
    assert_eq!(said(&tried), [""; 0]);
}

#[test]
fn a_return_must_lead_upstream() {
    let mut tried = shape(&[&[], &[0], &[0], &[1, 2]]);
    back(&mut tried, 1, 3, 5.0);
    assert_eq!(
        said(&tried),
        ["`b` sends back to `d`, which does not come before it"]
    );
    back(&mut tried, 1, 2, 5.0);
    assert_eq!(
        said(&tried),
        ["`b` sends back to `c`, which does not come before it"]
    );
    back(&mut tried, 1, 0, 5.0);
    assert_eq!(said(&tried), [""; 0]);
    back(&mut tried, 1, 1, 5.0);
    assert_eq!(said(&tried), [""; 0], "inspection may be repeated");
}

#[test]
fn a_name_that_leads_nowhere_is_a_problem_and_does_no_harm() {
    let mut tried = shape(&[&[], &[0, 9]]);
    back(&mut tried, 1, 7, 5.0);
    assert_eq!(
        said(&tried),
        [
            "`b` names step 10, which the route does not have",
            "`b` names step 8, which the route does not have"
        ]
    );
}

/// On paper: a 1, b 9, c 2, d 4, e 3; a-b-e is 13, a-c-d-e is 10; all together 19.
#[test]
fn the_longest_path_on_paper() {
    let tried = route(vec![
        step("a", BENCH, 1, &[]),
        step("b", BENCH, 9, &[0]),
        step("c", BENCH, 2, &[0]),
        step("d", BENCH, 4, &[2]),
        step("e", BENCH, 3, &[1, 3]),
    ]);
    let graph = ProcessGraph::of(&tried);
    let shop = Shop {
        routes: vec![tried],
        ..shop()
    };
    let at = |step| StepRef {
        route: RouteId(0),
        step,
    };
    let longest = graph.longest_path(|s| step_time(&shop, at(s), 1, Guess::Mean));
    assert_eq!(longest, Some((min(13), ix(&[0, 1, 4]))));
    assert_eq!(
        time_for_part(&shop, RouteId(0), PartId(0), 1, Guess::Mean),
        min(19)
    );
}

/// On paper: blast 5; coat 1 + 12 + 1; rinse 2; oil 1 + 30 + 1; inspect 3; together 56. The chain has no branches, so
/// the longest path is the whole.
#[test]
fn the_time_of_a_plain_route_on_paper() {
    let shop = shop();
    let graph = ProcessGraph::of(&shop.routes[0]);
    let at = |step| StepRef {
        route: RouteId(0),
        step,
    };
    let longest = graph.longest_path(|s| step_time(&shop, at(s), 40, Guess::Least));
    assert_eq!(longest, Some((min(56), ix(&[0, 1, 2, 3, 4]))));
    assert_eq!(
        time_for_part(&shop, RouteId(0), PartId(1), 40, Guess::Least),
        min(56)
    );
}

#[test]
fn pieces_parts_and_spreads_count_in_the_time() {
    let mut shop = shop();
    let spread = tankday::random::Spread::Uniform {
        least: min(4),
        most: min(8),
    };
    shop.routes[0].steps[0].time = StepTime::Work {
        load: spread,
        each: Span::seconds(30.0),
    };
    shop.routes[0].steps[3].only = vec![PartId(0)];
    let time = |part, guess| time_for_part(&shop, RouteId(0), PartId(part), 10, guess);
    assert_eq!(time(0, Guess::Least), min(56 - 5 + 4 + 5));
    assert_eq!(time(0, Guess::Mean), min(56 - 5 + 6 + 5));
    assert_eq!(
        time(1, Guess::Mean),
        min(56 - 5 + 6 + 5 - 32),
        "no oil for the other part"
    );
}

#[test]
fn the_text_for_graph_drawing_programs() {
    let shop = shop();
    let route = Route {
        steps: shop.routes[0].steps[..3].to_vec(),
        name: "short \"one\"".into(),
    };
    let expected = r#"digraph "short \"one\"" {
    rankdir=LR;
    node [shape=box];
    s0 [label="blast\nbench\nhands throughout"];
    s1 [label="coat\nblack tank\nhands at the ends"];
    s2 [label="rinse\nrinse \"bucket\", left\nhands throughout"];
    s0 -> s1;
    s1 -> s2 [label="within 1 min"];
}
"#;
    assert_eq!(ProcessGraph::of(&route).dot(&shop, &route), expected);
    let dot = ProcessGraph::of(&shop.routes[0]).dot(&shop, &shop.routes[0]);
    assert!(dot.contains("    s4 -> s0 [style=dashed, constraint=false, label=\"10 %\"];\n"));
}

#[test]
fn places_of_a_branch_and_a_return() {
    let mut tried = shape(&[&[], &[0], &[0], &[1, 2], &[0, 3]]);
    back(&mut tried, 3, 0, 5.0);
    let layout = ProcessGraph::of(&tried).layout();
    let layers: Vec<usize> = layout.nodes.iter().map(|n| n.layer).collect();
    assert_eq!(layers, [0, 1, 1, 2, 3]);
    let skip = layout
        .edges
        .iter()
        .find(|e| (e.from, e.to) == (StepIx(0), StepIx(4)))
        .unwrap();
    assert_eq!(skip.points.len(), 4, "bends once in each layer between");
    let back = layout.edges.last().unwrap();
    assert_eq!(
        (back.edge, back.points.len()),
        (Edge::Return(Share::percent(5.0)), 4)
    );
    assert!(back.points[1].across > layout.nodes.iter().map(|n| n.at.across).fold(0.0, f64::max) + 0.5);
    assert!(layout.rows.1 >= back.points[1].across && layout.rows.0 <= -1.0);
}

#[test]
fn a_single_step_stands_in_the_middle() {
    let layout = ProcessGraph::of(&route(vec![step("oil", OIL, 1, &[])])).layout();
    assert_eq!((layout.layers, layout.rows), (1, (0.0, 0.0)));
    assert_eq!(
        layout.nodes[0].at,
        Point {
            along: 0.0,
            across: 0.0
        }
    );
    assert_eq!(ProcessGraph::of(&route(Vec::new())).layout().layers, 0);
    assert_eq!(
        ProcessGraph::of(&route(vec![step("coat", TANK, 1, &[])])).starts(),
        ix(&[0])
    );
}

fn any_route() -> impl Strategy<Value = Route> {
    let edges = prop::collection::vec((0..12u32, 0..12u32), 0..25);
    let backs = prop::collection::vec((0..12usize, 0..12u32, 0.0..100.0f64), 0..4);
    (1..12usize, edges, backs).prop_map(|(n, edges, backs)| {
        let after = |i: usize| {
            edges
                .iter()
                .filter(|e| e.1 as usize == i)
                .map(|e| e.0)
                .collect::<Vec<_>>()
        };
        let steps = (0..n)
            .map(|i| step(&format!("s{i}"), BENCH, i as i64 % 7 + 1, &after(i)))
            .collect();
        let mut route = route(steps);
        for (step, to, percent) in backs.into_iter().filter(|b| b.0 < n) {
            back(&mut route, step, to, percent);
        }
        route
    })
}

/// Longest path by trying every path, for comparison.
fn longest_by_force(route: &Route, from: usize) -> i64 {
    let next = (0..route.steps.len()).filter(|&j| route.steps[j].after.contains(&StepIx(from as u32)));
    let own = from as i64 % 7 + 1;
    own + next.map(|j| longest_by_force(route, j)).max().unwrap_or(0)
}

proptest! {
    #![proptest_config(keeping(256))]

    #[test]
    fn any_graph_is_judged_and_laid_out(route in any_route()) {
        let graph = ProcessGraph::of(&route);
        let n = route.steps.len();
        let found = problems(&route);
        let looped = graph.in_order().is_none();
        prop_assert_eq!(looped, found.iter().any(|p| matches!(p, RouteProblem::Loop { .. })));
        for p in &found {
            prop_assert!(p.step().is_some_and(|s| s.index() < n) && !p.message(&route).is_empty());
        }
        let layout = graph.layout();
        prop_assert_eq!((layout.nodes.len(), layout.edges.len()), (n, graph.edges().count()));
        for (i, a) in layout.nodes.iter().enumerate() {
            prop_assert!(layout.nodes.iter().skip(i + 1).all(|b| a.at != b.at), "two steps in one place");
        }
        for e in &layout.edges {
            prop_assert_eq!(e.points.first().copied(), Some(layout.nodes[e.from.index()].at));
            prop_assert_eq!(e.points.last().copied(), Some(layout.nodes[e.to.index()].at));
        }
    }

    #[test]
    fn the_longest_path_is_the_longest_of_all(route in any_route()) {
        let graph = ProcessGraph::of(&route);
        let time = |s: StepIx| min(s.index() as i64 % 7 + 1);
        if let Some((longest, path)) = graph.longest_path(time) {
            let force = (0..route.steps.len()).map(|i| longest_by_force(&route, i)).max();
            prop_assert_eq!(Some(longest), force.map(min));
            prop_assert_eq!(path.iter().map(|&s| time(s)).sum::<Span>(), longest);
            prop_assert!(path.windows(2).all(|w| route.steps[w[1].index()].after.contains(&w[0])));
        }
    }
}
