package picture_test

import (
	"bytes"
	"fmt"
	"image/png"

	"formbuck/buck/picture"
)

func Example() {
	parts := []picture.Part{
		{Name: "standoff", Mesh: boss(2, 0, 24)},
		{Name: "nub", Mesh: cone(9.5, 0, 9, 5, 1.44, 20)},
	}
	img, err := picture.Draw(parts, picture.Options{
		Title:   "mount-boss standoff, right hand",
		Caption: "draft 5°\nnub Ø 5 mm, 120°",
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	var file bytes.Buffer
	if err := png.Encode(&file, img); err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(img.Bounds().Size())

	_, err = picture.Draw(parts, picture.Options{Width: 10})
	fmt.Println(err)
	// Output:
	// (1200,900)
	// picture must be 480 x 360 to 8192 x 8192 pixels: 10 x 900
}
