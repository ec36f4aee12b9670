//! What orders and loads ask of a resource, as jobs.

use super::loads::Class;
use super::machine::Job;
use super::way::{Outline, Way};
use tankday_base::units::{Moment, Span};

/// What an order's way asks of a resource at one of its steps.
#[derive(Debug, Clone, Copy)]
pub(super) struct Op {
    pub(super) step: usize,
    pub(super) head: Moment,
    /// For each load, or lot, that the order is in.
    pub(super) fixed: Span,
    /// What all pieces of the order add.
    pub(super) each: Span,
    pub(super) tail: Span,
}

/// Orders and their loads.
pub(super) struct Work<'a> {
    pub(super) ways: &'a [Way],
    pub(super) classes: &'a [Class],
    pub(super) outlines: &'a [Outline],
}

/// What the loads of a class ask of a resource at a step: how many of them at the least come no earlier than a head.
struct Batch {
    head: Moment,
    many: u64,
    fixed: Span,
    tail: Span,
}

impl Work<'_> {
    /// All that is asked of a resource. Work that several orders of a load share is counted once for as many loads as there
    /// are at the least; what pieces add is counted for each order.
    pub(super) fn jobs(&self, ops: &impl Fn(&Way) -> Vec<Op>) -> Vec<Job> {
        let mut jobs = Vec::new();
        for class in self.classes {
            let lists: Vec<Vec<Op>> = class.ways.iter().map(|w| ops(&self.ways[*w])).collect();
            for i in 0..lists.first().map_or(0, Vec::len) {
                let column: Vec<Op> = lists.iter().filter_map(|l| l.get(i).copied()).collect();
                match self.batches(class, &column) {
                    Some(batches) => {
                        jobs.extend(batches.iter().map(|b| Job {
                            head: b.head,
                            work: times(b.fixed, b.many),
                            tail: b.tail,
                        }));
                        jobs.extend(column.iter().map(|op| job(op, op.each)));
                    }
                    None => jobs.extend(
                        column
                            .iter()
                            .zip(&class.ways)
                            .map(|(op, way)| job(op, times(op.fixed, self.ways[*way].lots) + op.each)),
                    ),
                }
            }
        }
        jobs.retain(|j| j.work > Span::ZERO);
        jobs
    }

    /// The head of each lot or load that passes a resource, at the least, and the least that any takes there and has behind it.
    pub(super) fn heads(&self, ops: &impl Fn(&Way) -> Vec<Op>) -> Option<(Vec<Moment>, Span, Span)> {
        let mut heads = Vec::new();
        let (mut least, mut tail) = (Span::FOREVER, Span::FOREVER);
        for class in self.classes {
            let lists: Vec<Vec<Op>> = class.ways.iter().map(|w| ops(&self.ways[*w])).collect();
            for i in 0..lists.first().map_or(0, Vec::len) {
                let column: Vec<Op> = lists.iter().filter_map(|l| l.get(i).copied()).collect();
                for op in &column {
                    least = least.min(op.fixed);
                    tail = tail.min(op.tail);
                }
                match self.batches(class, &column) {
                    Some(batches) => {
                        heads.extend(batches.iter().flat_map(|b| (0..b.many).map(|_| b.head)));
                    }
                    None => heads.extend(
                        column
                            .iter()
                            .zip(&class.ways)
                            .flat_map(|(op, way)| (0..self.ways[*way].lots).map(|_| op.head)),
                    ),
                }
            }
        }
        (!heads.is_empty()).then_some((heads, least, tail))
    }

    /// The loads of a class at the step of these ops, one for each of its orders; none if there every lot goes by itself.
    fn batches(&self, class: &Class, column: &[Op]) -> Option<Vec<Batch>> {
        let step = column.first()?.step;
        let loads = class.loads_at(&self.outlines[class.route], step)?;
        let fixed = column.iter().map(|o| o.fixed).min()?;
        let tail = column.iter().map(|o| o.tail).min()?;
        let mut batches = Vec::with_capacity(loads.len());
        let (mut seen, mut before) = (0, 0);
        let mut head = Moment::NEVER;
        for (first, many) in class.firsts.iter().zip(&loads) {
            let more = column.get(seen..*first).unwrap_or_default();
            head = more.iter().fold(head, |h, op| h.min(op.head));
            seen = *first;
            if *many > before {
                batches.push(Batch {
                    head,
                    many: many - before,
                    fixed,
                    tail,
                });
                before = *many;
            }
        }
        Some(batches)
    }

    /// What each order needs of a resource for itself alone, whatever it shares: not before, in all, and the least behind it.
    pub(super) fn own(&self, class: &Class, way: &Way, ops: &[Op]) -> Job {
        let mut own = Job {
            head: Moment::NEVER,
            work: Span::ZERO,
            tail: Span::FOREVER,
        };
        for op in ops {
            let shared = class.merges_before(&self.outlines[class.route], op.step);
            let fixed = if shared {
                Span::ZERO
            } else {
                times(op.fixed, way.lots)
            };
            if fixed + op.each > Span::ZERO {
                own.work += fixed + op.each;
                own.head = own.head.min(op.head);
                own.tail = own.tail.min(op.tail);
            }
        }
        own
    }

    /// What each load of a class needs of a resource, shared by its orders: at the least.
    pub(super) fn shared(&self, class: &Class, ops: &[Op]) -> Span {
        let shared = |op: &&Op| class.merges_before(&self.outlines[class.route], op.step);
        ops.iter().filter(shared).map(|op| op.fixed).sum()
    }
}

fn job(op: &Op, work: Span) -> Job {
    Job {
        head: op.head,
        work,
        tail: op.tail,
    }
}

pub(super) fn times(work: Span, many: u64) -> Span {
    Span::micros(
        work.in_micros()
            .saturating_mul(i64::try_from(many).unwrap_or(i64::MAX)),
    )
}
