
use tankday::line::Line;
use tankday::luck::Luck;
use tankday::record::*;
use tankday::units::*;
use std::collections::HashMap;
#[derive(Default)]
struct W { wait: HashMap<(u32,u32), Moment>, made: HashMap<u32, Moment>, tank: (f64,u64), sys: (f64,u64) }
impl Watcher for W {
    const SAMPLES: bool = false;
    fn note(&mut self, at: Moment, e: Event) {
        match e {
            Event::LoadMade{load,..} => { self.made.insert(load.0, at); }
            Event::Waits{load, step} => { self.wait.insert((load.0, step.step.0), at); }
            Event::SetIn{load, step, ..} => { let w = self.wait.remove(&(load.0, step.step.0)).unwrap(); if step.step.0 == 1 { self.tank.0 += (at - w).in_minutes(); self.tank.1 += 1; } }
            Event::LoadReady{load} => { let m = self.made.remove(&load.0).unwrap(); self.sys.0 += (at - m).in_minutes(); self.sys.1 += 1; }
            _ => {}
        }
    }
}
#[test]
fn model_l() {
    let shop = crate::shops::model_l(100_000);
    let line = Line::new(&shop);
    let t0 = std::time::Instant::now();
    let o = line.run(Some(Luck::new(1, 0)), &mut Nobody);
    println!("{o:?} {:?}", t0.elapsed());
    let mut m = vec![]; let mut s = vec![];
    for r in 0..30 { let mut w = W::default(); line.run(Some(Luck::new(1, r)), &mut w); m.push(w.tank.0/w.tank.1 as f64); s.push(w.sys.0/w.sys.1 as f64); }
    println!("{} {}", m.iter().sum::<f64>()/30.0, s.iter().sum::<f64>()/30.0);
    println!("5.7512 62.2033");
}
