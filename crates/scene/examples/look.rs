//! Look.
use scene::*;
fn main() {
    let name = std::env::args().nth(1).unwrap();
    let text = std::fs::read_to_string(format!("params/{name}.toml")).unwrap();
    let read = params::read(&text);
    let r = design::resolve(&read.file.unwrap());
    let d = r.design.unwrap();
    let t = std::time::Instant::now();
    let meshes: Vec<solid::Mesh> = d.pieces.iter().map(|p| solid::Solid::of_shape(&p.shape).unwrap().mesh(0.1).unwrap()).collect();
    println!("meshes {:?}", t.elapsed());
    let t = std::time::Instant::now();
    let s = Scene::assembled(&d, &meshes).unwrap();
    println!("scene {:?}, {} bodies {} triangles {} edges", t.elapsed(), s.bodies.len(), s.bodies.iter().map(|b| b.triangles.len()).sum::<usize>(), s.bodies.iter().map(|b| b.edges.iter().map(|e| e.len()-1).sum::<usize>()).sum::<usize>());
    for round in 0..2 {
        let all = std::time::Instant::now();
        for view in View::ALL {
            let t = std::time::Instant::now();
            let im = draw(&s, view, [1600, 1000]).unwrap();
            let dt = t.elapsed();
            let t = std::time::Instant::now();
            let png = im.to_png().unwrap();
            if round > 0 { println!("{} {dt:?} png {:?} {} KB", view.name(), t.elapsed(), png.len()/1024); }
            std::fs::write(format!("/tmp/scene-dev/{name}-{}.png", view.name()), png).unwrap();
        }
        println!("all {:?}", all.elapsed());
    }
}
